//! Tables of cases: what a job has, and what must be found of it.
//!
//! The first line names the columns: before `=>` what is put into the job, after it what
//! must come out, by the names of [`super::small_job::Judged::cell`]. Cells stand between `|`. A line that
//! starts with `#` is a remark, mostly how the expected value was worked out.

use super::small_job::SmallJob;

/// One line of a table.
pub struct Row<'a> {
    line: &'a str,
    given: Vec<(&'a str, &'a str)>,
    wanted: Vec<(&'a str, &'a str)>,
}

impl Row<'_> {
    /// What stands in the column `name`, among those that are given.
    #[track_caller]
    pub fn at(&self, name: &str) -> &str {
        let cell = self.given.iter().find(|(column, _)| *column == name);
        cell.unwrap_or_else(|| panic!("no column `{name}`")).1
    }

    /// What is answered otherwise than this row wants.
    fn differences(&self, answer: impl Fn(&str) -> String) -> Vec<String> {
        let wanted = self.wanted.iter();
        wanted
            .filter_map(|(name, wanted)| {
                let found = answer(name);
                (!is_same(&found, wanted)).then(|| format!("  {name} is `{found}`"))
            })
            .collect()
    }
}

/// Whether both are the same text, or figures that agree in the digits wanted.
fn is_same(found: &str, wanted: &str) -> bool {
    let (Ok(figure), Ok(hand)) = (found.parse::<f64>(), wanted.parse::<f64>()) else {
        return found == wanted;
    };
    let decimals = wanted.split_once('.').map_or(0, |(_, digits)| digits.len());
    (figure - hand).abs() <= 0.501 * 0.1f64.powi(decimals as i32)
}

fn cells(side: &str) -> Vec<&str> {
    side.split('|').map(str::trim).collect()
}

/// Judges the job that `job` makes of each row of `text`, and holds it against the row.
#[track_caller]
pub fn hold(text: &'static str, job: impl Fn(&Row<'_>) -> SmallJob) {
    answers(text, |row| {
        let judged = job(row).judged();
        move |name: &str| judged.cell(name)
    });
}

/// Holds what `answer` makes of each row of `text`, by the names of the columns, against
/// the row.
#[track_caller]
pub fn answers<F: Fn(&str) -> String>(text: &'static str, answer: impl Fn(&Row<'_>) -> F) {
    let mut lines = text
        .lines()
        .map(str::trim)
        .filter(|line| !line.is_empty() && !line.starts_with('#'));
    let sides = |line: &'static str| line.split_once("=>").unwrap_or_else(|| panic!("{line}"));
    let (given, wanted) = sides(lines.next().unwrap());
    let (given, wanted) = (cells(given), cells(wanted));
    let mut rows = 0;
    let mut wrong = Vec::new();
    for line in lines {
        let (left, right) = sides(line);
        let pair = |columns: &[&'static str], side| {
            let cells = cells(side);
            assert_eq!(columns.len(), cells.len(), "{line}");
            columns.iter().copied().zip(cells).collect()
        };
        let row = Row {
            line,
            given: pair(&given, left),
            wanted: pair(&wanted, right),
        };
        let differences = row.differences(answer(&row));
        if !differences.is_empty() {
            wrong.push(format!("{}\n{}", row.line, differences.join("\n")));
        }
        rows += 1;
    }
    assert!(rows > 0, "a table without rows");
    assert!(wrong.is_empty(), "\n{}\n", wrong.join("\n"));
}
