//! A reading without ±: a grade by its name, a count, counted events, a list.

use super::common_checks;
use super::exact::not_on_scale;
use super::positions::is_same;
use super::problem::Problems;
use super::reading_context::Context;
use crate::job::{Counted, ExactScale, Grades, ListItem, RateScale};

impl Context<'_> {
    /// A grade, or an exact count, of the reading or of the row at `path`.
    pub fn exact(
        &self,
        path: &[&str],
        grade: Option<&str>,
        count: Option<u32>,
        scale: &ExactScale,
        problems: &mut Problems,
    ) -> Option<u32> {
        match scale {
            ExactScale::Grades(grades) => self.grade(path, grade, grades, problems),
            ExactScale::Counts(_) => self.counted(path, count, problems),
        }
    }

    fn grade(
        &self,
        path: &[&str],
        grade: Option<&str>,
        grades: &Grades,
        problems: &mut Problems,
    ) -> Option<u32> {
        let Some(grade) = grade else {
            self.not_filled_in(
                path,
                "there is no grade",
                format!("add `grade = \"…\"`; {}", not_on_scale("", &grades.names)),
                problems,
            );
            return None;
        };
        let found = grades.names.iter().position(|name| is_same(name, grade));
        if found.is_none() {
            self.problem(
                &[path, &["grade"]].concat(),
                format!(
                    "`{grade}` is not one of the grades of `{}`",
                    self.measure.id
                ),
                not_on_scale(grade, &grades.names),
                problems,
            );
        }
        found.and_then(|place| u32::try_from(place).ok())
    }

    fn counted(&self, path: &[&str], count: Option<u32>, problems: &mut Problems) -> Option<u32> {
        if count.is_none() {
            self.not_filled_in(
                path,
                "there is no count",
                "add `count = …`; 0 is a count too",
                problems,
            );
        }
        count
    }

    /// Counted events, and over how much.
    pub fn rate(&self, scale: &RateScale, problems: &mut Problems) -> Option<Counted> {
        let table = self.table;
        let (Some(count), Some(over), Some(symbol)) = (table.count, table.over, &table.unit) else {
            self.problem(
                &[],
                "a rate needs `count`, `over` and `unit`",
                format!(
                    "write all three, such as `count = 12`, `over = 10` and `unit = \"{}\"`",
                    scale.per.symbol()
                ),
                problems,
            );
            return None;
        };
        let id = self.measure.id.as_str();
        let whose = format!("the rate of `{id}`");
        let unit = common_checks::unit_of(
            self.document,
            &["reading", id, "unit"],
            symbol,
            scale.per.dimension(),
            &whose,
            problems,
        )?;
        let path = ["reading", id, "over"];
        let over = common_checks::quantity(self.document, &path, over, unit, problems)?;
        if over.si() <= 0.0 {
            self.problem(
                &["over"],
                "nothing can be counted over nothing",
                "write over how much was counted",
                problems,
            );
            return None;
        }
        Some(Counted { count, over })
    }

    /// What the machine has stored.
    pub fn list(&self, problems: &mut Problems) -> Option<Vec<ListItem>> {
        let Some(rows) = &self.table.items else {
            self.not_filled_in(
                &[],
                "there is no list",
                "add `items = [ { code = \"…\", text = \"…\" } ]`, or `items = []` for nothing",
                problems,
            );
            return None;
        };
        let mut items: Vec<ListItem> = Vec::new();
        for (index, row) in rows.iter().enumerate() {
            let item = ListItem {
                code: row.code.trim().to_owned(),
                text: row.text.clone(),
            };
            if items.iter().any(|known| known.is_same(&item)) {
                self.problem(
                    &["items", &index.to_string(), "code"],
                    format!("the code `{}` is in the list twice", item.code),
                    "write each code once; what belongs to it goes into its `text`",
                    problems,
                );
            }
            items.push(item);
        }
        Some(items)
    }
}
