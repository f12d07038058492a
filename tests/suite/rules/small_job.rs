//! A small job to vary: files in a folder, judged by the program, answered in JSON.

use serde_json::Value;

use crate::folder::{Folder, run};

/// The coverage factor of 95 % of a normal distribution: with it as `k`, a stated
/// `uncertainty` is the expanded uncertainty U of a reading, to the last digit.
const Z: &str = "1.959963984540054";

/// A machine that hardly varies from run to run.
const STEADY: &str = "run_to_run = { deviation = 1e-9, source = \"Its log\" }";

/// A booster pump of four cylinders, received on 1 March 2026, measured before the work
/// on 2 March and after it on 5 March. It has no measures yet, and one condition that is
/// alike in both runs, so that there is nothing to say beside the verdict.
pub struct SmallJob {
    rule: String,
    job: String,
    limits: String,
    work: String,
    done: String,
    runs: [Run; 2],
}

/// One of the two runs.
#[derive(Default)]
struct Run {
    /// Who measured.
    by: String,
    /// Keys at the top of the file.
    top: String,
    /// Conditions, one line each.
    conditions: String,
    /// Tables of readings.
    readings: String,
}

impl SmallJob {
    pub fn new() -> Self {
        let job = Self {
            rule: "four-zone".to_owned(),
            job: "format = 1\njob = \"T-1\"\ncomplaint = \"It does not hold its pressure.\"\n\
                  received = 2026-03-01\n\n[customer]\nname = \"Lower Meadow Dairy\"\n\n\
                  [machine]\nname = \"Booster pump\"\ncylinders = 4\n"
                .to_owned(),
            limits: String::new(),
            work: "format = 1\nstarted = 2026-03-03T08:00:00+00:00\n\
                   finished = 2026-03-04T16:00:00+00:00\nby = \"A. Fitter\"\n"
                .to_owned(),
            done: String::new(),
            runs: Default::default(),
        };
        job.measured_by("A. Fitter", "A. Fitter")
            .started("2026-03-02T07:00:00+00:00", "2026-03-05T07:00:00+00:00")
            .condition(
                "water",
                "required = true",
                "text = \"mains\"",
                "text = \"mains\"",
            )
    }

    /// When the two runs started.
    pub fn started(mut self, before: &str, after: &str) -> Self {
        for (run, moment) in self.runs.iter_mut().zip([before, after]) {
            let meter: String = run.top.lines().filter(|l| l.starts_with("meter")).collect();
            run.top = format!("started = {moment}\n{meter}\n");
        }
        self
    }

    /// Who measured in each run.
    pub fn measured_by(mut self, before: &str, after: &str) -> Self {
        for (run, by) in self.runs.iter_mut().zip([before, after]) {
            by.clone_into(&mut run.by);
        }
        self
    }

    pub fn rule(mut self, rule: &str) -> Self {
        rule.clone_into(&mut self.rule);
        self
    }

    pub fn cylinders(mut self, count: usize) -> Self {
        self.job = self
            .job
            .replace("cylinders = 4", &format!("cylinders = {count}"));
        self
    }

    /// A measure with these keys besides `id`, `name` and `source`, and its reading in
    /// each run.
    pub fn measure(mut self, id: &str, keys: &str, before: &str, after: &str) -> Self {
        self.limits += &format!(
            "[[measure]]\nid = \"{id}\"\nname = \"Measure {id}\"\nsource = \"Agreed\"\n{keys}\n\n"
        );
        for (run, reading) in self.runs.iter_mut().zip([before, after]) {
            run.readings += &format!("[reading.{id}]\n{reading}\n\n");
        }
        self
    }

    /// A measure that is worked out, with these keys besides `id`, `name`, `kind` and `source`.
    pub fn worked_out(mut self, id: &str, keys: &str) -> Self {
        self.limits += &format!(
            "[[measure]]\nid = \"{id}\"\nname = \"Measure {id}\"\nkind = \"value\"\n\
             source = \"Agreed\"\n{keys}\n\n"
        );
        self
    }

    /// A measure of one value in bar, of which it is known that it hardly varies from run to
    /// run: so little that no figure of a table shows it.
    pub fn value(self, id: &str, keys: &str, before: &str, after: &str) -> Self {
        let keys = format!("{STEADY}\n{keys}");
        self.varying(id, &keys, before, after)
    }

    /// A measure of one value in bar; how it varies from run to run is not known, unless the
    /// keys say it.
    pub fn varying(self, id: &str, keys: &str, before: &str, after: &str) -> Self {
        let keys = format!("kind = \"value\"\nunit = \"bar\"\n{keys}");
        self.measure(id, &keys, before, after)
    }

    /// A measure of which just this is found, by that name. The limit is 10 bar, U = 1.
    pub fn found(self, found: &str, id: &str, required: bool) -> Self {
        self.found_with(found, id, &format!("required = {required}"))
    }

    /// The same, with these keys besides its limits.
    pub fn found_with(self, found: &str, id: &str, more: &str) -> Self {
        let reading = |value: &str| match value {
            "" => "not_taken = \"The gauge broke\"".to_owned(),
            value => bar(value, "1"),
        };
        let (keys, before, after) = match found {
            "pass" => ("max = 10", "14", "5"),
            "same" => ("max = 10", "5", "5"),
            // Inside by 0.5, outside by 0.5, outside by 2.
            "narrow" => ("max = 10", "14", "9.5"),
            "near" => ("max = 10", "14", "10.5"),
            "outside" => ("max = 10", "14", "12"),
            // 2 ± 1.4 worse: inside the limit by more than U, by less, and outside it.
            "worse-within" => ("max = 10", "5", "7"),
            "worse" => ("max = 10", "7.5", "9.5"),
            "worse-out" => ("max = 10", "9", "14"),
            // Less by 3 ± 1.4 where 5 are asked; by 0.5 ± 1.4 where 1 is asked; more by 2.
            "absent" => ("max = 10\nimprove_by = 5", "8", "5"),
            "unseen" => ("max = 10\nimprove_by = 1", "8", "7.5"),
            "worse-asked" => ("max = 10\nimprove_by = 5", "5", "7"),
            "not-taken" => ("max = 10", "14", ""),
            "not-taken-before" => ("max = 10", "", "5"),
            "no-limit" => ("better = \"lower\"", "14", "5"),
            other => panic!("{other}"),
        };
        let keys = format!("{more}\n{keys}");
        self.value(id, &keys, &reading(before), &reading(after))
    }

    /// A condition with these keys besides `id` and `name`, and what each run found; an
    /// empty text where a run did not record it.
    pub fn condition(mut self, id: &str, keys: &str, before: &str, after: &str) -> Self {
        self.limits +=
            &format!("[[condition]]\nid = \"{id}\"\nname = \"Condition {id}\"\n{keys}\n\n");
        for (run, found) in self.runs.iter_mut().zip([before, after]) {
            if !found.is_empty() {
                run.conditions += &format!("{id} = {{ {found} }}\n");
            }
        }
        self
    }

    /// Tables of `limits.toml`, such as sets of positions; they stand above the measures that
    /// follow.
    pub fn plan(mut self, tables: &str) -> Self {
        self.limits += &format!("{tables}\n\n");
        self
    }

    /// Leaves the job without any condition.
    pub fn without_conditions(mut self) -> Self {
        let first = self.limits.find("[[condition]]").unwrap();
        let end = self.limits[first..].find("\n\n").unwrap() + first + 2;
        self.limits.replace_range(first..end, "");
        for run in &mut self.runs {
            run.conditions.clear();
        }
        self
    }

    /// An instrument with these keys besides `id` and `kind`.
    pub fn instrument(mut self, id: &str, keys: &str) -> Self {
        self.job += &format!("\n[[instrument]]\nid = \"{id}\"\nkind = \"Gauge {id}\"\n{keys}\n");
        self
    }

    /// The machine's meter in each run; an empty text where it was not read.
    pub fn meter(mut self, before: &str, after: &str) -> Self {
        for (run, meter) in self.runs.iter_mut().zip([before, after]) {
            if !meter.is_empty() {
                run.top += &format!("meter = {{ {meter} }}\n");
            }
        }
        self
    }

    /// What was run between the work and the retest.
    pub fn run_in(mut self, keys: &str) -> Self {
        if !keys.is_empty() {
            self.work += &format!("run_in = {{ {keys} }}\n");
        }
        self
    }

    /// Keys of `work.toml`, and its tables besides the one intervention, "New seals".
    pub fn work(mut self, keys: &str, tables: &str) -> Self {
        self.work += &format!("{keys}\n");
        self.done += tables;
        self
    }

    /// The job as a folder.
    pub fn folder(&self) -> Folder {
        let [before, after] = self.runs.each_ref().map(|run| {
            format!(
                "format = 1\nby = \"{}\"\n{}\n[condition]\n{}\n{}",
                run.by, run.top, run.conditions, run.readings
            )
        });
        let limits = format!(
            "format = 1\ndecision_rule = \"{}\"\n\n{}",
            self.rule, self.limits
        );
        let work = format!(
            "{}\n[[intervention]]\nwhat = \"New seals\"\n{}",
            self.work, self.done
        );
        let shop = "format = 1\nname = \"Fitter & Daughter\"\n".to_owned();
        let files = [
            ("shop.toml", shop),
            ("job.toml", self.job.clone()),
            ("limits.toml", limits),
            ("baseline.toml", before),
            ("work.toml", work),
            ("retest.toml", after),
        ];
        Folder::of(&files.map(|(name, text)| (name.to_owned(), text.into_bytes())))
    }

    /// Judges the job with `check --json`.
    #[track_caller]
    pub fn judged(&self) -> Judged {
        let folder = self.folder();
        let found = run(&["check", "--json", folder.path().to_str().unwrap()]);
        assert!(found.err.is_empty(), "{}", found.err);
        assert!(found.out.ends_with("}\n"), "the last line is one");
        let json: Value = serde_json::from_str(&found.out).unwrap();
        assert_eq!(json["format"], 1, "as `samples/FORMAT.md` has it");
        Judged {
            code: found.code,
            json,
        }
    }
}

/// A reading of one value in bar with its expanded uncertainty.
pub fn bar(value: &str, expanded: &str) -> String {
    format!("value = {value}\nunit = \"bar\"\n{}", stated(expanded))
}

/// The expanded uncertainty of a reading, or of an instrument's certificate.
pub fn stated(expanded: &str) -> String {
    format!("uncertainty = {expanded}\nk = {Z}")
}

/// What the program answers.
pub struct Judged {
    /// The exit code of `check`.
    pub code: i32,
    /// `result.json`.
    pub json: Value,
}

impl Judged {
    /// Reasons or reservations, each its name and what it is about, in one line.
    fn statements(&self, list: &str) -> String {
        let all = self.json[list].as_array().unwrap().iter();
        let one = |one: &Value| {
            let part = |key: &str| one[key].as_str().unwrap_or_default().to_owned();
            let text = format!("{} {} {}", part("what"), part("about"), part("day"));
            text.trim().to_owned()
        };
        all.map(one).collect::<Vec<_>>().join(", ")
    }

    /// One answer, as it stands in a table. A name with dots is a path into
    /// `result.json`, `#` for `measures.0.values.0`; the others are shorter names.
    pub fn cell(&self, name: &str) -> String {
        let path = match name {
            "reasons" | "reservations" => return self.statements(name),
            "exit" => return self.code.to_string(),
            "verdict" => name,
            "fair" => "fair_conditions",
            "outcome" => "measures.0.outcome",
            "change" => "measures.0.change",
            "zone" => "#.after.zone",
            "zone before" => "#.before.zone",
            "gain" => "#.improvement.zone",
            "conformity" => "#.after.conformity",
            "state" => "conditions.1.state",
            path => path,
        };
        let mut found = &self.json;
        for step in path.replace('#', "measures.0.values.0").split('.') {
            found = match step.parse::<usize>() {
                Ok(index) => &found[index],
                Err(_) => &found[step],
            };
        }
        match found {
            Value::Null => "-".to_owned(),
            Value::String(text) => text.clone(),
            other => other.to_string(),
        }
    }
}
