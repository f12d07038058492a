//! One table under `[reading]` → [`Reading`], by the kind of its measure.

use super::bench::Bench;
use super::common_checks;
use super::positions;
use super::problem::Problems;
use super::reading_context::Context;
use super::recordings;
use super::shapes::{PositionRow, ReadingTable};
use super::smoke;
use super::toml_document::Document;
use crate::job::{
    Count, Entry, ExactScale, Kind, Measure, Observation, PerPosition, Positions, Reading, Stated,
    TestKind,
};
use crate::quantity::{Dimension, Quantity, Unit};

/// The reading of `measure` that `table` holds.
pub fn reading(
    document: &Document,
    measure: &Measure,
    table: &ReadingTable,
    bench: &Bench<'_>,
    problems: &mut Problems,
) -> Option<Reading> {
    let before = problems.len();
    let context = Context {
        document,
        measure,
        table,
        bench,
    };
    if let Some(formula) = &measure.worked_out {
        context.problem(
            &[],
            format!(
                "`{}` is worked out from other readings, not read",
                measure.id
            ),
            format!(
                "delete this reading; limits.toml has `{}` for it",
                formula.text
            ),
            problems,
        );
        return None;
    }
    if let Some(why) = &table.not_taken {
        context.not_taken(problems);
        return (problems.len() == before).then(|| Reading {
            observation: Observation::NotTaken(why.clone()),
            instrument: None,
            timer: None,
            stated: None,
            note: None,
            shown_in: None,
        });
    }
    context.keys_fit_kind(problems);
    let observation = match &measure.kind {
        Kind::Value(scale) => context
            .values_unit(scale.unit, problems)
            .and_then(|unit| {
                context.values(&[], table.value, table.values.as_deref(), unit, problems)
            })
            .map(Observation::Value),
        Kind::ValueAt(scales) => context
            .values_unit(scales.common.unit, problems)
            .and_then(|unit| {
                context.by_position(&scales.at, problems, |path, row, problems| {
                    context.values(path, row.value, row.values.as_deref(), unit, problems)
                })
            })
            .map(Observation::ValueAt),
        Kind::Passes { min } => context
            .count(&[], table.passes, table.attempts, *min, problems)
            .map(Observation::Passes),
        Kind::PassesAt { at, min } => context
            .by_position(at, problems, |path, row, problems| {
                context.count(path, row.passes, row.attempts, *min, problems)
            })
            .map(Observation::PassesAt),
        Kind::Exact(scale) => context
            .exact(&[], table.grade.as_deref(), table.count, scale, problems)
            .map(Observation::Exact),
        Kind::ExactAt(scales) => context
            .by_position(&scales.at, problems, |path, row, problems| {
                let grade = row.grade.as_deref();
                context.exact(path, grade, row.count, &scales.common, problems)
            })
            .map(Observation::ExactAt),
        Kind::Rate(scale) => context.rate(scale, problems).map(Observation::Rate),
        Kind::List(_) => context.list(problems).map(Observation::List),
        Kind::Smoke(limits) => smoke::smoke(&context, limits, problems).map(Observation::Smoke),
        Kind::Text => context.text(problems).map(Observation::Text),
    };
    let stated = context.stated(problems);
    context.instruments(problems);
    (problems.len() == before).then_some(())?;
    Some(Reading {
        observation: observation?,
        instrument: table.instrument.clone(),
        timer: table.timer.clone(),
        stated,
        note: table.note.clone(),
        shown_in: recordings::shown_in(table),
    })
}

impl Context<'_> {
    /// A reading that was not taken has no other keys.
    fn not_taken(&self, problems: &mut Problems) {
        let t = self.table;
        let besides = [
            ("instrument", t.instrument.is_some()),
            ("note", t.note.is_some()),
            ("recording", t.recording.is_some()),
            ("recording_at", t.recording_at.is_some()),
        ];
        for (key, _) in self
            .given()
            .into_iter()
            .chain(besides)
            .filter(|(_, is)| *is)
        {
            self.problem(
                &[key],
                format!("`{key}` cannot be combined with `not_taken`"),
                "delete one of the two",
                problems,
            );
        }
    }

    /// The keys that belong to a kind of measure, and whether they are there.
    fn given(&self) -> [(&'static str, bool); 22] {
        let t = self.table;
        [
            ("value", t.value.is_some()),
            ("values", t.values.is_some()),
            ("unit", t.unit.is_some()),
            ("rows", t.rows.is_some()),
            ("passes", t.passes.is_some()),
            ("attempts", t.attempts.is_some()),
            ("grade", t.grade.is_some()),
            ("count", t.count.is_some()),
            ("over", t.over.is_some()),
            ("items", t.items.is_some()),
            ("opacity_percent", t.opacity_percent.is_some()),
            ("snaps_percent", t.snaps_percent.is_some()),
            ("path_length_mm", t.path_length_mm.is_some()),
            ("colour", t.colour.is_some()),
            ("ringelmann", t.ringelmann.is_some()),
            ("clear_seconds", t.clear_seconds.is_some()),
            ("words", t.words.is_some()),
            ("text", t.text.is_some()),
            ("timer", t.timer.is_some()),
            ("uncertainty", t.uncertainty.is_some()),
            ("k", t.k.is_some()),
            ("dof", t.dof.is_some()),
        ]
    }

    /// A key of another kind would be ignored without notice, so it is refused.
    fn keys_fit_kind(&self, problems: &mut Problems) {
        let (fitting, example): (&[&str], &str) = match &self.measure.kind {
            Kind::Value(_) => (
                &["value", "values", "unit", "uncertainty", "k", "dof"],
                "`value = 2.1` and `unit = \"s\"`",
            ),
            Kind::ValueAt(_) => (
                &["rows", "unit", "uncertainty", "k", "dof"],
                "`unit` and `rows = [ { at = 1, value = … }, … ]`",
            ),
            Kind::Passes { .. } => (&["passes", "attempts"], "`passes = 5` and `attempts = 6`"),
            Kind::PassesAt { .. } => (
                &["rows"],
                "`rows = [ { at = 1, passes = 9, attempts = 10 }, … ]`",
            ),
            Kind::Exact(ExactScale::Grades(_)) => (&["grade"], "`grade = \"…\"`"),
            Kind::Exact(ExactScale::Counts(_)) => (&["count"], "`count = 3`"),
            Kind::ExactAt(scales) => (
                &["rows"],
                match &scales.common {
                    ExactScale::Grades(_) => "`rows = [ { at = 1, grade = \"…\" }, … ]`",
                    ExactScale::Counts(_) => "`rows = [ { at = 1, count = 3 }, … ]`",
                },
            ),
            Kind::Rate(_) => (
                &["count", "over", "unit"],
                "`count = 12`, `over = 10` and `unit`",
            ),
            Kind::List(_) => (
                &["items"],
                "`items = [ { code = \"…\", text = \"…\" }, … ]`",
            ),
            Kind::Smoke(_) => (
                &[
                    "opacity_percent",
                    "snaps_percent",
                    "path_length_mm",
                    "colour",
                    "ringelmann",
                    "clear_seconds",
                    "words",
                    "timer",
                ],
                "`colour`, `clear_seconds`, `opacity_percent` or `words`",
            ),
            Kind::Text => (&["text"], "`text = \"…\"`"),
        };
        for (key, is_given) in self.given() {
            if is_given && !fitting.contains(&key) {
                self.problem(
                    &[key],
                    format!(
                        "`{key}` does not apply to the measure `{}`",
                        self.measure.id
                    ),
                    format!("a reading of its kind has {example}"),
                    problems,
                );
            }
        }
    }

    /// The unit of the values, which must fit the measure.
    fn values_unit(&self, wanted: &'static Unit, problems: &mut Problems) -> Option<&'static Unit> {
        let Some(symbol) = &self.table.unit else {
            self.problem(
                &[],
                format!("`{}` has no unit", self.measure.id),
                format!("add `unit = \"{}\"`", wanted.symbol()),
                problems,
            );
            return None;
        };
        let path = ["reading", self.measure.id.as_str(), "unit"];
        let whose = format!("the measure `{}`", self.measure.id);
        common_checks::unit_of(
            self.document,
            &path,
            symbol,
            wanted.dimension(),
            &whose,
            problems,
        )
    }

    fn values(
        &self,
        path: &[&str],
        value: Option<f64>,
        values: Option<&[f64]>,
        unit: &'static Unit,
        problems: &mut Problems,
    ) -> Option<Vec<Quantity>> {
        let written = match (value, values) {
            (Some(value), None) => vec![value],
            (None, Some(values)) => {
                self.decimal_commas(path, values.len(), problems);
                values.to_vec()
            }
            (Some(_), Some(_)) => {
                let path = [path, &["values"]].concat();
                self.problem(
                    &path,
                    "both `value` and `values` are given",
                    "use `value` for a single reading, `values` for repeats",
                    problems,
                );
                return None;
            }
            (None, None) => {
                self.not_filled_in(path, "there is no value", "add `value = …`", problems);
                return None;
            }
        };
        written
            .into_iter()
            .enumerate()
            .map(|(index, number)| {
                let at = index.to_string();
                let key: &[&str] = match value {
                    Some(_) => &["value"],
                    None => &["values", &at],
                };
                let whole = [&["reading", self.measure.id.as_str()], path, key].concat();
                let test = self.measure.test;
                if number < 0.0 && test.is_some_and(TestKind::is_never_negative) {
                    let message = "a reading of this test cannot be negative";
                    let hint = "check the number and its sign";
                    self.document.problem(&whole, message, hint, problems);
                }
                common_checks::quantity(self.document, &whole, number, unit, problems)
            })
            .collect()
    }

    /// In `[ 12,8, 13,4 ]` the commas split two readings into four. Such a list is recognised
    /// by its spaces or, without any, by being twice as long as planned.
    fn decimal_commas(&self, path: &[&str], count: usize, problems: &mut Problems) {
        let whole = [&["reading", self.measure.id.as_str()], path, &["values"]].concat();
        let (all_whole, gaps) = self.document.list(&whole);
        let one_after = |gap: &usize| *gap == 1;
        let spaced = gaps.len() >= 3
            && gaps.iter().step_by(2).all(one_after)
            && !gaps.iter().skip(1).step_by(2).any(one_after);
        let planned = self.measure.repeats;
        let twice =
            planned.is_some_and(|planned| count == 2 * planned) && gaps.iter().all(one_after);
        if all_whole && count.is_multiple_of(2) && (spaced || twice) {
            self.problem(
                &[path, &["values"]].concat(),
                format!(
                    "these {count} whole numbers look like {} with a decimal comma",
                    count / 2
                ),
                "write a decimal point, such as 12.8; if they are whole numbers, write each \
                 as 12.0, with a space after every comma",
                problems,
            );
        }
    }

    /// One entry for each position: none missing, none doubled, none that does not exist.
    fn by_position<T>(
        &self,
        at: &Positions,
        problems: &mut Problems,
        mut entry: impl FnMut(&[&str], &PositionRow, &mut Problems) -> Option<T>,
    ) -> Option<PerPosition<T>> {
        if at.is_empty() {
            return None;
        }
        let one = positions::one_of(at);
        let Some(rows) = &self.table.rows else {
            self.not_filled_in(
                &[],
                format!("`{}` has no rows", self.measure.id),
                format!(
                    "add one row for each {one}: `rows = [ {{ at = {}, … }}, … ]`",
                    if at.points().is_some() {
                        at.name(0)
                    } else {
                        "1"
                    }
                ),
                problems,
            );
            return None;
        };
        let mut entries: Vec<Option<Entry<T>>> = at.names.iter().map(|_| None).collect();
        let mut seen = vec![false; at.len()];
        for (index, row) in rows.iter().enumerate() {
            let number = index.to_string();
            let path = ["reading", self.measure.id.as_str(), "rows", &number, "at"];
            let place = positions::index_of(self.document, &path, &row.at, at, problems);
            let Some(place) = place else {
                continue;
            };
            if std::mem::replace(&mut seen[place], true) {
                self.problem(
                    &["rows", &number, "at"],
                    format!("{one} {} has two rows", row.at),
                    format!("correct it, or write repeats of one {one} as `values = [ … ]`"),
                    problems,
                );
                continue;
            }
            entries[place] = match &row.not_taken {
                Some(why) => {
                    self.row_not_taken_alone(&number, row, problems);
                    Some(Entry::NotTaken(why.clone()))
                }
                None => {
                    self.row_fits_kind(&number, row, problems);
                    entry(&["rows", &number], row, problems).map(Entry::Taken)
                }
            };
        }
        let missing: Vec<&str> = seen
            .iter()
            .zip(&at.names)
            .filter(|(seen, _)| !**seen)
            .map(|(_, name)| name.as_str())
            .collect();
        if !missing.is_empty() {
            self.not_filled_in(
                &["rows"],
                format!("the row for {one} {} is missing", missing.join(", ")),
                format!(
                    "add one row for each of the {} {}, with `not_taken = \"why\"` where it \
                     could not be read",
                    at.len(),
                    positions::many_of(at)
                ),
                problems,
            );
        }
        let entries: Vec<Entry<T>> = entries.into_iter().collect::<Option<_>>()?;
        if entries.iter().all(|entry| entry.taken().is_none()) {
            self.problem(
                &["rows"],
                format!("no row of `{}` was taken", self.measure.id),
                "write `not_taken = \"why\"` for the whole reading, without rows",
                problems,
            );
        }
        Some(PerPosition::new(entries))
    }

    fn count(
        &self,
        path: &[&str],
        passes: Option<u32>,
        attempts: Option<u32>,
        min: Option<u32>,
        problems: &mut Problems,
    ) -> Option<Count> {
        if (passes, attempts) == (None, None) {
            let hint = "add `passes = …` and `attempts = …`";
            self.not_filled_in(path, "there is no count", hint, problems);
            return None;
        }
        let (Some(passes), Some(attempts)) = (passes, attempts) else {
            self.problem(
                path,
                "`passes` needs `attempts`, and `attempts` needs `passes`",
                "write both, such as passes = 5, attempts = 6",
                problems,
            );
            return None;
        };
        if let Some(min) = min.filter(|min| *min > attempts) {
            let path = [path, &["attempts"]].concat();
            self.problem(
                &path,
                format!("{attempts} attempts cannot give the {min} passes that the limit requires"),
                format!("make at least {min} attempts, or correct `min_passes` in limits.toml"),
                problems,
            );
        }
        let count = Count::new(passes, attempts);
        if count.is_none() {
            let path = [path, &["passes"]].concat();
            self.problem(
                &path,
                format!("{passes} passes are more than {attempts} attempts"),
                "swap or correct the two numbers",
                problems,
            );
        }
        count
    }

    fn text(&self, problems: &mut Problems) -> Option<String> {
        if self.table.text.is_none() {
            self.not_filled_in(&[], "there is no text", "add `text = \"…\"`", problems);
        }
        self.table.text.clone()
    }

    /// The uncertainty that was stated for this reading.
    fn stated(&self, problems: &mut Problems) -> Option<Stated> {
        let given = [
            ("k", self.table.k.is_some()),
            ("dof", self.table.dof.is_some()),
        ];
        for (key, _) in given.into_iter().filter(|(_, is_given)| *is_given) {
            if self.table.uncertainty.is_none() {
                self.problem(
                    &[key],
                    format!("`{key}` is given without `uncertainty`"),
                    format!("add `uncertainty`, or delete `{key}`"),
                    problems,
                );
            }
        }
        if self.table.uncertainty == Some(0.0) {
            self.problem(
                &["uncertainty"],
                "an uncertainty cannot be zero",
                "write its expanded uncertainty, or name its instrument instead",
                problems,
            );
        }
        let unit = Unit::named(self.table.unit.as_deref()?)?;
        let path = ["reading", self.measure.id.as_str(), "uncertainty"];
        let expanded = self.table.uncertainty?;
        let expanded = common_checks::difference(self.document, &path, expanded, unit, problems);
        expanded.map(|expanded| Stated {
            expanded,
            k: self.table.k.unwrap_or(2.0),
            dof: self.table.dof,
        })
    }

    /// The instruments exist and measure the right thing; a number without any known
    /// uncertainty is refused.
    fn instruments(&self, problems: &mut Problems) {
        let id = self.measure.id.as_str();
        let (dimension, is_figure) = match &self.measure.kind {
            Kind::Value(scale) => (Some(scale.unit.dimension()), true),
            Kind::ValueAt(scales) => (Some(scales.common.unit.dimension()), true),
            // Smoke may be judged by eye; `smoke` asks for an instrument where it must have one.
            Kind::Smoke(_) => (Some(Dimension::Ratio), false),
            Kind::Passes { .. }
            | Kind::PassesAt { .. }
            | Kind::Exact(_)
            | Kind::ExactAt(_)
            | Kind::Rate(_)
            | Kind::List(_)
            | Kind::Text => (None, false),
        };
        let is_stated = self.table.uncertainty.is_some();
        match (&self.table.instrument, dimension) {
            (Some(instrument), Some(dimension)) => {
                let path = ["reading", id, "instrument"];
                self.bench
                    .check_instrument(self.document, &path, instrument, dimension, problems);
            }
            (None, Some(_)) if is_figure && !is_stated => {
                self.problem(
                    &[],
                    format!("the uncertainty of `{id}` is not known"),
                    "add `instrument = \"…\"` from job.toml, or `uncertainty = …`",
                    problems,
                );
            }
            (Some(_), None) | (None, Some(_) | None) => {}
        }
        if let Some(timer) = &self.table.timer {
            let path = ["reading", id, "timer"];
            self.bench
                .check_instrument(self.document, &path, timer, Dimension::Time, problems);
        }
    }
}
