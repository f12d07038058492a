//! The steps of a run: when and who, the conditions, and one page for each measure, in the
//! order of the worksheet.

use super::desk::Desk;
use super::document::{Step as Down, keys, read, rows};
use super::steps::{Field, Part, Step, Tally};
use super::typed::{Entry, Setting};
use crate::job::{
    Condition, ConditionKind, ExactScale, JobFile, Kind, Measure, Meter, Plan, Shop, SmokeLimits,
};
use crate::quantity::Dimension;
use crate::view::{SheetRow, Words, worksheet};

fn key(name: &str) -> Down {
    Down::Key(name.to_owned())
}

/// The pages of one run, with one entry more of each list than the file has.
pub fn steps(desk: &Desk, plan: &Plan, part: Part, words: &Words, setting: Setting) -> Vec<Step> {
    steps_with(desk, plan, part, words, setting, 0)
}

/// The same, with at least `entries` entries of each list and one more.
pub fn steps_with(
    desk: &Desk,
    plan: &Plan,
    part: Part,
    words: &Words,
    setting: Setting,
    entries: usize,
) -> Vec<Step> {
    let Some(file) = part.media() else {
        return Vec::new();
    };
    let run = Run {
        desk,
        plan,
        part,
        file,
        words,
        setting,
        entries,
    };
    let rows = desk.shop.as_ref().map(|shop| run.sheet(shop));
    let (conditions, measures) = rows.unwrap_or_default();
    let mut steps = vec![run.when()];
    steps.extend(run.conditions(&conditions));
    let all = plan.limits.measures.iter().enumerate();
    let read = all.filter(|(_, measure)| measure.worked_out.is_none());
    steps.extend(read.map(|(index, measure)| run.measure(measure, measures.get(index))));
    steps.push(run.end());
    steps
}

struct Run<'a> {
    desk: &'a Desk,
    plan: &'a Plan,
    part: Part,
    file: JobFile,
    words: &'a Words,
    setting: Setting,
    entries: usize,
}

impl Run<'_> {
    /// The rows of the worksheet: conditions, and measures in the order of the plan.
    fn sheet(&self, shop: &Shop) -> (Vec<SheetRow>, Vec<SheetRow>) {
        let sheet = worksheet(self.plan, shop, self.words);
        (sheet.conditions, sheet.measures)
    }

    fn say(&self, id: &str) -> String {
        self.words.say(id)
    }

    fn field(&self, table: &[Down], name: &'static str, entry: Entry, label: &str) -> Field {
        Field::new(self.file, table, name, entry, self.say(label))
    }

    fn when(&self) -> Step {
        let mut step = Step::new(self.part, "when", self.say("fill-when"));
        step.fields = vec![
            self.field(&[], "started", Entry::Moment, "fill-started")
                .needed(),
            self.field(&[], "by", Entry::Text, "fill-by").needed(),
            self.field(&[], "witness", Entry::List, "fill-witness")
                .help(self.say("fill-witness-help")),
        ];
        let units = match self.plan.machine.meter {
            Some(Meter::None) => &[][..],
            Some(Meter::Hours) => &["h"],
            Some(Meter::Distance) => &["km", "mi"],
            None => &["h", "km", "mi"],
        };
        let meter = [key("meter")];
        match units {
            [] => {}
            [only] => step.fields.push(Field {
                with: vec![("unit", (*only).to_owned())],
                ..self
                    .field(&meter, "value", Entry::Number, "fill-meter")
                    .unit(only)
            }),
            several => {
                let choices = several
                    .iter()
                    .map(|unit| ((*unit).to_owned(), (*unit).to_owned()));
                let first = several[0].to_owned();
                step.fields.push(Field {
                    with: vec![("unit", first)],
                    ..self.field(&meter, "value", Entry::Number, "fill-meter")
                });
                step.fields.push(Field {
                    beside: true,
                    ..self.field(
                        &meter,
                        "unit",
                        Entry::Choice(choices.collect()),
                        "fill-meter-unit",
                    )
                });
            }
        }
        step
    }

    fn conditions(&self, rows: &[SheetRow]) -> Option<Step> {
        let conditions = &self.plan.limits.conditions;
        if conditions.is_empty() {
            return None;
        }
        let mut step = Step::new(self.part, "conditions", self.say("fill-conditions"));
        step.notes = vec![self.say(match self.part {
            Part::Retest => "fill-conditions-alike",
            Part::Plan | Part::Baseline | Part::Work => "fill-conditions-first",
        })];
        // In the order of the worksheet: what can no longer be read once the machine runs
        // comes first.
        for row in rows {
            if let Some(condition) = conditions.iter().find(|one| one.id == row.id) {
                step.fields.extend(self.condition(condition, row));
            }
        }
        Some(step)
    }

    fn condition(&self, condition: &Condition, row: &SheetRow) -> Vec<Field> {
        let table = [key("condition"), key(&condition.id)];
        let help = row.notes.first().cloned().unwrap_or_default();
        match &condition.kind {
            ConditionKind::Text => {
                let field = Field::new(self.file, &table, "text", Entry::Text, row.name.clone());
                vec![Field {
                    needed: condition.required,
                    ..field.help(help)
                }]
            }
            ConditionKind::Value { unit, .. } => {
                let field = Field::new(self.file, &table, "value", Entry::Number, row.name.clone());
                let mut fields = vec![Field {
                    needed: condition.required,
                    with: vec![("unit", unit.symbol().to_owned())],
                    ..field
                        .unit(&self.unit_in_file(&table, unit.symbol()))
                        .help(help)
                }];
                if unit.dimension() != Dimension::Time {
                    fields.extend(self.instrument(&table, unit.dimension(), "instrument"));
                }
                fields
            }
        }
    }

    /// The unit that the file has there already, or that of the plan.
    fn unit_in_file(&self, table: &[Down], planned: &str) -> String {
        let unit = Field::new(self.file, table, "unit", Entry::Text, String::new());
        let found = self
            .desk
            .document(self.file)
            .and_then(|document| read(document, &unit.target, &Entry::Text, self.setting).pop());
        found.unwrap_or_else(|| planned.to_owned())
    }

    /// The instruments of the plan that can read it, to choose from.
    fn instrument(&self, table: &[Down], of: Dimension, name: &'static str) -> Option<Field> {
        let fitting = self.plan.instruments.iter();
        let fitting = fitting.filter(|one| one.unit.dimension().serves(of));
        let choices: Vec<(String, String)> = fitting
            .map(|one| (one.id.clone(), format!("{} ({})", one.kind, one.id)))
            .collect();
        let first = choices.first()?.0.clone();
        let offered = match choices.as_slice() {
            [_] => first,
            _ => String::new(),
        };
        Some(Field {
            beside: true,
            offered,
            ..self.field(table, name, Entry::Choice(choices), "fill-instrument")
        })
    }

    fn measure(&self, measure: &Measure, row: Option<&SheetRow>) -> Step {
        let table = [key("reading"), key(&measure.id)];
        let id = format!("m-{}", measure.id);
        let mut step = Step::new(self.part, &id, measure.name.clone());
        step.any = true;
        step.measure = Some(measure.id.clone());
        step.notes = row.map_or_else(Vec::new, |row| row.notes.clone());
        let repeats = measure.repeats.unwrap_or(1).max(1);
        let value = self.say("fill-value");
        match &measure.kind {
            Kind::Value(scale) => {
                let symbol = scale.unit.symbol();
                let field = Field::new(self.file, &table, "value", Entry::Numbers, value);
                step.fields.push(Field {
                    repeats,
                    with: vec![("unit", symbol.to_owned())],
                    ..field.needed().unit(&self.unit_in_file(&table, symbol))
                });
                self.read_with(&mut step, &table, scale.unit.dimension());
            }
            Kind::ValueAt(scales) => {
                let symbol = scales.common.unit.symbol();
                let unit = self.unit_in_file(&table, symbol);
                for name in &scales.at.names {
                    let at = self.at(&table, name);
                    let label = self.words.say_with("fill-value-at", &[("position", name)]);
                    let field = Field::new(self.file, &at, "value", Entry::Numbers, label);
                    step.fields.push(Field {
                        repeats,
                        row: Some(name.clone()),
                        ..field.needed().unit(&unit)
                    });
                }
                self.read_with(&mut step, &table, scales.common.unit.dimension());
                step.fields.push(self.unit_beside(&table, &unit));
            }
            Kind::Passes { .. } => self.tally(&mut step, &table, ""),
            Kind::PassesAt { at, .. } => {
                for name in &at.names {
                    self.tally(&mut step, &self.at(&table, name), name);
                }
            }
            Kind::Exact(scale) => step.fields.push(self.exact(&table, scale, None)),
            Kind::ExactAt(scales) => {
                for name in &scales.at.names {
                    let row = self.at(&table, name);
                    step.fields
                        .push(self.exact(&row, &scales.common, Some(name)));
                }
            }
            Kind::Rate(scale) => {
                let unit = scale.per.symbol();
                let count = self.field(&table, "count", Entry::Whole, "fill-count");
                let over = self.field(&table, "over", Entry::Number, "fill-over");
                step.fields.push(count.needed());
                step.fields.push(Field {
                    with: vec![("unit", unit.to_owned())],
                    ..over.needed().unit(&self.unit_in_file(&table, unit))
                });
            }
            Kind::List(_) => self.stored(&mut step, &table),
            Kind::Smoke(limits) => self.smoke(&mut step, &table, limits),
            Kind::Text => {
                step.fields.push(
                    self.field(&table, "text", Entry::Lines, "fill-words")
                        .needed(),
                );
            }
        }
        step.fields.extend(self.shown_in(&table));
        let not_taken = |table: &[Down]| {
            self.field(table, "not_taken", Entry::Text, "fill-not-taken")
                .help(self.say("fill-not-taken-help"))
        };
        step.fields.push(not_taken(&table));
        if let Some(at) = measure.kind.at() {
            step.fields.extend(at.names.iter().map(|name| {
                Field {
                    row: Some(name.clone()),
                    label: self
                        .words
                        .say_with("fill-not-taken-at", &[("position", name)]),
                    ..not_taken(&self.at(&table, name))
                }
            }));
        }
        step.fields.push(Field {
            beside: true,
            ..self.field(&table, "note", Entry::Text, "fill-note")
        });
        step
    }

    /// Which of the run's recordings shows it, and when; nothing where there is none.
    fn shown_in(&self, table: &[Down; 2]) -> Vec<Field> {
        let document = self.desk.document(self.file);
        let list = document.and_then(|document| document.get("recording")?.as_array_of_tables());
        let files = list.into_iter().flat_map(|tables| tables.iter());
        let choices: Vec<(String, String)> = files
            .filter_map(|table| {
                let file = table.get("file")?.as_str()?.to_owned();
                let caption = table.get("caption").and_then(toml_edit::Item::as_str);
                let caption = caption.map_or_else(String::new, |caption| format!(": {caption}"));
                Some((file.clone(), format!("{file}{caption}")))
            })
            .collect();
        if choices.is_empty() {
            return Vec::new();
        }
        let file = self.field(table, "recording", Entry::Choice(choices), "fill-shown-in");
        let at = self.field(table, "recording_at", Entry::Text, "fill-shown-at");
        let fields = [file, at.help(self.say("fill-shown-at-help"))];
        let beside = fields.map(|field| Field {
            beside: true,
            ..field
        });
        beside.into()
    }

    /// With which instrument it is read; a reading may have an uncertainty of its own instead.
    fn read_with(&self, step: &mut Step, table: &[Down; 2], of: Dimension) {
        let document = self.desk.document(self.file);
        let keys = document.map_or_else(Vec::new, |document| keys(document, table));
        if keys.iter().any(|key| key == "uncertainty") {
            return;
        }
        match self.instrument(table, of, "instrument") {
            Some(field) => step.fields.push(field),
            None => step.notes.push(
                self.words
                    .say_with("fill-no-instrument", &[("file", self.file.name())]),
            ),
        }
    }

    fn at(&self, table: &[Down; 2], name: &str) -> Vec<Down> {
        let [reading, id] = table.clone();
        vec![reading, id, key("rows"), Down::At(name.to_owned())]
    }

    /// The unit of a reading at positions stands beside its rows, so it is a choice of one.
    fn unit_beside(&self, table: &[Down], unit: &str) -> Field {
        let choices = vec![(unit.to_owned(), unit.to_owned())];
        Field {
            beside: true,
            offered: unit.to_owned(),
            ..self.field(table, "unit", Entry::Choice(choices), "fill-unit")
        }
    }

    /// A grade to choose, or a count.
    fn exact(&self, table: &[Down], scale: &ExactScale, row: Option<&String>) -> Field {
        let field = match scale {
            ExactScale::Grades(grades) => {
                let names = grades.names.iter();
                let choices = names.map(|name| (name.clone(), name.clone())).collect();
                self.field(table, "grade", Entry::Choice(choices), "fill-grade")
            }
            ExactScale::Counts(_) => self.field(table, "count", Entry::Whole, "fill-count"),
        };
        Field {
            row: row.cloned(),
            ..field.needed()
        }
    }

    /// What the machine has stored: its codes, or that there is nothing.
    fn stored(&self, step: &mut Step, table: &[Down; 2]) {
        let [reading, id] = table.clone();
        let items = vec![reading, id, key("items")];
        let there = self.desk.document(self.file);
        let there = there.map_or(0, |document| rows(document, &items));
        let there = there.max(self.entries);
        let nothing = self.field(table, "items", Entry::NoneOf, "fill-nothing-stored");
        step.fields.push(nothing);
        for number in 0..=there {
            let mut place = items.clone();
            place.push(Down::Number(number));
            let row = Some((number + 1).to_string());
            let code = self.field(&place, "code", Entry::Text, "fill-code");
            let text = self.field(&place, "text", Entry::Text, "fill-code-text");
            step.fields.push(Field {
                needed: number == 0,
                row: row.clone(),
                ..code
            });
            step.fields.push(Field { row, ..text });
        }
    }

    fn tally(&self, step: &mut Step, table: &[Down], name: &str) {
        let row = (!name.is_empty()).then(|| name.to_owned());
        let count = |key: &'static str, label: &str| Field {
            row: row.clone(),
            ..self.field(table, key, Entry::Whole, label).needed()
        };
        let (passes, attempts) = (
            count("passes", "fill-passes"),
            count("attempts", "fill-attempts"),
        );
        step.tallies.push(Tally {
            passes: passes.name(),
            attempts: attempts.name(),
            label: name.to_owned(),
        });
        step.fields.extend([passes, attempts]);
    }

    fn smoke(&self, step: &mut Step, table: &[Down], limits: &SmokeLimits) {
        let metered = limits.max_opacity.is_some() || limits.max_absorption.is_some();
        step.notes.push(
            self.words
                .say_with("fill-smoke-in-file", &[("file", self.file.name())]),
        );
        let document = self.desk.document(self.file);
        let in_file = document.map_or_else(Vec::new, |document| keys(document, table));
        let in_a_row = in_file.iter().any(|key| key == "snaps_percent");
        if metered || limits.max_clear.is_none() {
            step.fields.push(Field {
                needed: metered && !in_a_row,
                ..self
                    .field(table, "opacity_percent", Entry::Number, "fill-opacity")
                    .unit("%")
            });
            step.fields.push(
                self.field(table, "path_length_mm", Entry::Number, "fill-path")
                    .unit("mm"),
            );
            step.fields
                .extend(self.instrument(table, Dimension::Ratio, "instrument"));
        }
        step.fields.push(Field {
            needed: limits.max_clear.is_some(),
            ..self
                .field(table, "clear_seconds", Entry::Number, "fill-clear")
                .unit("s")
        });
        step.fields.push(Field {
            needed: !metered && limits.max_clear.is_none(),
            ..self.field(table, "colour", Entry::Text, "fill-colour")
        });
        step.fields
            .push(self.field(table, "words", Entry::Text, "fill-looked"));
    }

    fn end(&self) -> Step {
        let mut step = Step::new(self.part, "end", self.say("fill-end"));
        step.fields = vec![
            self.field(&[], "ended", Entry::Moment, "fill-ended"),
            self.field(&[], "place", Entry::Text, "fill-place"),
            self.field(&[], "note", Entry::Lines, "fill-run-note"),
        ];
        step.media = true;
        step
    }
}
