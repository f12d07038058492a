//! A table that the plan holds, such as a saturation temperature by pressure.

use crate::quantity::{Unit, at_most};

/// Pairs of numbers, the first of each rising.
#[derive(Debug, Clone, PartialEq)]
pub struct Table {
    /// The short name by which formulas refer to it.
    pub id: String,
    /// What it is, and where it comes from.
    pub source: String,
    /// The unit of the numbers that it is asked for.
    pub from: &'static Unit,
    /// The unit of its answers.
    pub to: &'static Unit,
    /// What lies between two rows.
    pub between: Between,
    rows: Vec<(f64, f64)>,
}

/// What lies between two rows of a table.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Deserialize, schemars::JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Between {
    /// A straight line from one to the next.
    Line,
    /// What the row at or below says, as in a table of "from … on".
    Step,
    /// What the row at or above says, as in a table of "up to and including …".
    UpTo,
}

/// A table was asked for a number beyond its ends.
#[derive(Debug, Clone, PartialEq)]
pub struct TableError {
    /// The table's id.
    pub table: String,
    /// What was asked.
    pub asked: f64,
    /// The first and the last number that it holds.
    pub ends: [f64; 2],
}

impl std::fmt::Display for TableError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let [first, last] = self.ends;
        // Without what only binary fractions add.
        let asked = (self.asked * 1e9).round() / 1e9;
        write!(
            f,
            "the table `{}` holds {first} to {last}, and was asked for {asked}",
            self.table
        )
    }
}

impl std::error::Error for TableError {}

impl Table {
    /// A table of at least two rows whose first numbers rise.
    ///
    /// Returns the place of the first row that does not, or of the one that is missing.
    ///
    /// # Errors
    ///
    /// That place.
    pub fn new(
        id: String,
        source: String,
        [from, to]: [&'static Unit; 2],
        between: Between,
        rows: Vec<(f64, f64)>,
    ) -> Result<Self, usize> {
        if let Some(place) = rows.windows(2).position(|pair| pair[1].0 <= pair[0].0) {
            return Err(place + 1);
        }
        if rows.len() < 2 {
            return Err(rows.len());
        }
        Ok(Self {
            id,
            source,
            from,
            to,
            between,
            rows,
        })
    }

    /// The first and the last number that it holds.
    pub fn ends(&self) -> [f64; 2] {
        let at = |row: Option<&(f64, f64)>| row.map_or(f64::NAN, |row| row.0);
        [at(self.rows.first()), at(self.rows.last())]
    }

    /// Whether its answers jump from one row to the next.
    pub fn has_steps(&self) -> bool {
        match self.between {
            Between::Step | Between::UpTo => true,
            Between::Line => false,
        }
    }

    /// Its answer for `x`, with the slope there. At a row, where two lines meet, the slope is
    /// the steeper one. Nothing is read off beyond its ends; what lies no further from a row
    /// than rounding is at that row.
    ///
    /// # Errors
    ///
    /// [`TableError`], beyond its ends.
    pub fn look_up(&self, x: f64) -> Result<(f64, f64), TableError> {
        let [first, last] = self.ends();
        // Rounding is that of SI units: 0 °F is 255.4 K, and comes back as −5.7·10⁻¹⁴ °F.
        let at_most = |a: f64, b: f64| at_most(self.from.to_si(a), self.from.to_si(b));
        let is_inside = at_most(first, x) && at_most(x, last);
        if !is_inside {
            return Err(TableError {
                table: self.id.clone(),
                asked: x,
                ends: [first, last],
            });
        }
        let is_at = |row: &&(f64, f64)| at_most(row.0, x) && at_most(x, row.0);
        let at = self.rows.iter().find(is_at).copied();
        let x = at.map_or(x, |row| row.0);
        match self.between {
            Between::Step => {
                let below = self.rows.iter().take_while(|row| at_most(row.0, x));
                Ok((below.last().map_or(f64::NAN, |row| row.1), 0.0))
            }
            Between::UpTo => {
                let above = self.rows.iter().find(|row| at_most(x, row.0));
                Ok((above.map_or(f64::NAN, |row| row.1), 0.0))
            }
            Between::Line => {
                let lines = self.rows.windows(2).map(|pair| (pair[0], pair[1]));
                let touching = lines.filter(|(from, to)| at_most(from.0, x) && at_most(x, to.0));
                let found = touching.map(|(from, to)| {
                    let slope = (to.1 - from.1) / (to.0 - from.0);
                    let value = from.1 + slope * (x - from.0);
                    (at.map_or(value, |row| row.1), slope)
                });
                let steeper = |a: (f64, f64), b: (f64, f64)| {
                    if b.1.abs() > a.1.abs() { (a.0, b.1) } else { a }
                };
                Ok(found.reduce(steeper).unwrap_or((f64::NAN, 0.0)))
            }
        }
    }
}
