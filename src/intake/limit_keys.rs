//! The keys that state a limit, of a measure or of one of its positions: bounds, a target with
//! its tolerance, what should be besides, and the manual's own words.

use std::sync::Arc;

use super::common_checks;
use super::problem::Problems;
use super::shapes::{BeforeTable, LimitRow, MeasureTable};
use super::toml_document::Document;
use crate::job::{Bounds, OwnLimits, Target, Within};
use crate::quantity::{Dimension, Quantity, Unit};

/// What one table says of a limit.
#[derive(Debug, Clone, Copy)]
pub struct LimitKeys<'a> {
    min: Option<f64>,
    max: Option<f64>,
    target: Option<f64>,
    within: Option<f64>,
    within_percent: Option<f64>,
    should_min: Option<f64>,
    should_max: Option<f64>,
    as_printed: Option<&'a String>,
}

/// What a limit is read with.
struct Reader<'a, 'p> {
    document: &'a Document,
    base: &'a [&'a str],
    unit: &'static Unit,
    problems: &'p mut Problems,
}

impl<'a> LimitKeys<'a> {
    /// Those of a measure. A tolerance without a target is that of the targets in its rows.
    pub fn of_measure(table: &'a MeasureTable) -> Self {
        Self {
            min: table.min,
            max: table.max,
            target: table.target,
            within: table.within,
            within_percent: table.within_percent,
            should_min: table.should_min,
            should_max: table.should_max,
            as_printed: table.as_printed.as_ref(),
        }
    }

    /// Those of a row; the tolerance is that of the measure where the row has none.
    pub fn of_row(row: &'a LimitRow, table: &MeasureTable) -> Self {
        let has_own = row.within.is_some() || row.within_percent.is_some();
        let common = |own: Option<f64>, common: Option<f64>| match (has_own, row.target) {
            (false, Some(_)) => common,
            (true, _) | (false, None) => own,
        };
        Self {
            min: row.min,
            max: row.max,
            target: row.target,
            within: common(row.within, table.within),
            within_percent: common(row.within_percent, table.within_percent),
            should_min: row.should_min,
            should_max: row.should_max,
            as_printed: row.as_printed.as_ref(),
        }
    }

    /// Those of what was in service.
    fn of_service(table: &'a BeforeTable) -> Self {
        Self {
            min: table.min,
            max: table.max,
            target: table.target,
            within: table.within,
            within_percent: table.within_percent,
            should_min: table.should_min,
            should_max: table.should_max,
            as_printed: table.as_printed.as_ref(),
        }
    }

    /// The keys, and whether they are there.
    pub fn given(&self) -> [(&'static str, bool); 8] {
        [
            ("min", self.min.is_some()),
            ("max", self.max.is_some()),
            ("target", self.target.is_some()),
            ("within", self.within.is_some()),
            ("within_percent", self.within_percent.is_some()),
            ("should_min", self.should_min.is_some()),
            ("should_max", self.should_max.is_some()),
            ("as_printed", self.as_printed.is_some()),
        ]
    }

    /// The same without a tolerance, which belongs to the rows.
    #[must_use]
    pub fn without_tolerance(self) -> Self {
        Self {
            within: None,
            within_percent: None,
            ..self
        }
    }

    /// The limits that these keys state, in the table at `base`; `depends` where there is one
    /// besides that is worked out in each run. None where bounds are given and cannot be.
    pub fn limits(
        self,
        document: &Document,
        base: &[&str],
        unit: &'static Unit,
        depends: bool,
        problems: &mut Problems,
    ) -> Option<OwnLimits> {
        let mut reader = Reader {
            document,
            base,
            unit,
            problems,
        };
        let bounds = match self.target {
            Some(target) => reader.around(target, &self),
            None => {
                reader.no_tolerance(&self);
                reader.between([("min", self.min), ("max", self.max)])
            }
        };
        let is_given = self.target.is_some() || self.min.is_some() || self.max.is_some();
        if is_given && bounds.is_none() {
            return None;
        }
        let should = reader.between([
            ("should_min", self.should_min),
            ("should_max", self.should_max),
        ]);
        if let Some(should) = should {
            reader.within_what_must_be(should, bounds, depends);
        }
        Some(OwnLimits {
            bounds,
            by: None,
            should,
            as_printed: self.as_printed.cloned(),
            before: None,
        })
    }
}

/// The limits of what was in service, from the key `before` of the table at `base`.
pub fn of_service(
    table: Option<&BeforeTable>,
    document: &Document,
    base: &[&str],
    unit: &'static Unit,
    problems: &mut Problems,
) -> Option<Arc<OwnLimits>> {
    let path = [base, &["before"]].concat();
    let keys = LimitKeys::of_service(table?);
    let found = keys.limits(document, &path, unit, false, problems)?;
    if found.bounds.is_none() && found.should.is_none() {
        document.problem(
            &path,
            "`before` states no limit",
            "add `min`, `max` or both, or `target`, or delete it",
            problems,
        );
    }
    Some(Arc::new(found))
}

impl Reader<'_, '_> {
    fn problem(&mut self, key: &str, message: impl Into<String>, hint: impl Into<String>) {
        let path = [self.base, &[key]].concat();
        self.document.problem(&path, message, hint, self.problems);
    }

    fn quantity(&mut self, key: &str, value: f64) -> Option<Quantity> {
        let path = [self.base, &[key]].concat();
        common_checks::quantity(self.document, &path, value, self.unit, self.problems)
    }

    /// Bounds from the least and the greatest.
    fn between(&mut self, [least, greatest]: [(&str, Option<f64>); 2]) -> Option<Bounds> {
        let mut end = |(key, value): (&str, Option<f64>)| self.quantity(key, value?);
        let ends = [end(least), end(greatest)];
        let bounds = Bounds::new(ends[0], ends[1]);
        if bounds.is_none() && ends.iter().any(Option::is_some) {
            self.problem(
                least.0,
                format!("`{}` is greater than `{}`", least.0, greatest.0),
                "swap them or correct one",
            );
        }
        bounds
    }

    /// A tolerance needs a target.
    fn no_tolerance(&mut self, keys: &LimitKeys<'_>) {
        for (key, given) in [
            ("within", keys.within),
            ("within_percent", keys.within_percent),
        ] {
            if given.is_some() {
                self.problem(
                    key,
                    format!("`{key}` is a tolerance, and there is no `target`"),
                    "add `target = …`: the figure that is wanted",
                );
            }
        }
    }

    /// Bounds to either side of `target`.
    fn around(&mut self, target: f64, keys: &LimitKeys<'_>) -> Option<Bounds> {
        if keys.min.is_some() || keys.max.is_some() {
            self.problem(
                "target",
                "both a target and bounds are given",
                "keep `target` with its tolerance, or `min` and `max`",
            );
            return None;
        }
        let centre = self.quantity("target", target)?;
        let within = match (keys.within, keys.within_percent) {
            (Some(within), None) => {
                let path = [self.base, &["within"]].concat();
                let (document, unit) = (self.document, self.unit);
                common_checks::difference(document, &path, within, unit, self.problems)
                    .map(Within::By)?
            }
            (None, Some(percent)) => Within::Percent(self.percent(percent, target)?),
            (Some(_), Some(_)) => {
                self.problem(
                    "within",
                    "both `within` and `within_percent` are given",
                    "keep one of the two",
                );
                return None;
            }
            (None, None) => {
                self.problem(
                    "target",
                    "this target has no tolerance",
                    "add `within = …` or `within_percent = …`",
                );
                return None;
            }
        };
        let target = Target { centre, within };
        if target.half_width() <= 0.0 {
            self.problem(
                "target",
                "nothing is exactly at its target",
                "write a tolerance of more than 0, or `min` and `max`",
            );
            return None;
        }
        Bounds::around(target)
    }

    fn percent(&mut self, percent: f64, target: f64) -> Option<Quantity> {
        let unit = self.unit;
        if !unit.has_true_zero() {
            self.problem(
                "within_percent",
                format!(
                    "a percentage of {} in {} has no meaning",
                    common_checks::with_article(unit.dimension()),
                    unit.symbol()
                ),
                if unit.dimension() == Dimension::Temperature {
                    "use `within`, in kelvins or Fahrenheit degrees"
                } else {
                    "use `within`"
                },
            );
            return None;
        }
        if target == 0.0 {
            self.problem(
                "within_percent",
                "a percentage of a target of 0 is nothing",
                "use `within`",
            );
            return None;
        }
        let path = [self.base, &["within_percent"]].concat();
        let percent_unit = Unit::named("%")?;
        common_checks::quantity(self.document, &path, percent, percent_unit, self.problems)
    }

    /// What should be lies within what must be.
    fn within_what_must_be(&mut self, should: Bounds, must: Option<Bounds>, depends: bool) {
        let ends = [("should_min", should.min()), ("should_max", should.max())];
        if must.is_none() && !depends {
            let (key, _) = ends[usize::from(should.min().is_none())];
            self.problem(
                key,
                format!("`{key}` goes with a limit that must be met, and there is none"),
                "write the only limit there is as `min` or `max`",
            );
            return;
        }
        let [least, most] = [Bounds::min, Bounds::max].map(|end| must.as_ref().and_then(end));
        for (key, end) in ends {
            let Some(end) = end else { continue };
            let beyond = least.is_some_and(|least| end.si() < least.si())
                || most.is_some_and(|most| end.si() > most.si());
            if beyond {
                self.problem(
                    key,
                    format!("`{key}` is not within the limit that must be met"),
                    "what should be is stricter than what must be: swap them, or correct one",
                );
            }
        }
    }
}
