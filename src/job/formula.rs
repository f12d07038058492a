//! Figures that are worked out from readings of the same run.
//!
//! A formula is arithmetic over its parts, each in the unit of its measure or condition.
//! It is evaluated together with its slopes, by which the uncertainties of the parts pass
//! on to the figure (JCGM 100:2008, 5.1.2). Where it has a lowest, a highest or a greatest of
//! several positions, it is one smooth function for each choice of those positions.

use std::sync::Arc;

use super::{Positions, Table, TableError};
use crate::quantity::{Unit, noise_of};

/// A figure worked out from readings of the same run.
#[derive(Debug, Clone)]
pub struct Formula {
    /// As it stands in the file.
    pub text: String,
    /// What it is worked out from, each once.
    pub parts: Vec<Input>,
    /// How.
    pub expression: Expression,
    /// How many positions at least must have been read of each part that it takes all positions
    /// of, so that those that were not may be left out; none where all must.
    pub least_read: Option<usize>,
}

/// One thing that a formula names.
#[derive(Debug, Clone)]
pub struct Input {
    /// What it is.
    pub of: InputOf,
    /// The unit in which its number enters.
    pub unit: &'static Unit,
    /// Where it is read, if at several positions.
    pub at: Option<Positions>,
}

/// What a part is, by its id.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum InputOf {
    /// A measure.
    Measure(String),
    /// A condition.
    Condition(String),
}

impl InputOf {
    /// The id.
    pub fn id(&self) -> &str {
        match self {
            Self::Measure(id) | Self::Condition(id) => id,
        }
    }
}

/// An expression. Parts go by their place in [`Formula::parts`].
#[derive(Debug, Clone)]
pub enum Expression {
    /// A number.
    Number(f64),
    /// A part: its one figure, or that of the position at hand.
    Part(usize),
    /// Something of all positions of a part.
    Over(Over, usize),
    /// The opposite.
    Negative(Box<Expression>),
    /// A function of one number.
    Of(Function, Box<Expression>),
    /// What a table says for a number.
    Looked(Arc<Table>, Box<Expression>),
    /// Two numbers together.
    Both(Operator, Box<Expression>, Box<Expression>),
}

/// What is asked of all positions of a part.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Over {
    /// Their sum.
    Sum,
    /// Their mean.
    Mean,
    /// The lowest.
    Lowest,
    /// The highest.
    Highest,
    /// The highest minus the lowest.
    Spread,
    /// The greatest distance of one of them from their mean.
    GreatestDeviation,
}

/// A function of one number.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Function {
    /// √x.
    Root,
    /// eˣ.
    Exp,
    /// The natural logarithm.
    Ln,
    /// Without its sign.
    Size,
}

/// What is done with two numbers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Operator {
    /// +
    Add,
    /// −
    Subtract,
    /// ·
    Multiply,
    /// /
    Divide,
    /// To the power of.
    Power,
}

/// A number with its slopes: how it follows each figure that it was worked out from.
#[derive(Debug, Clone)]
pub struct Sloped {
    /// The number.
    pub value: f64,
    /// By how much it changes with each figure, in the order of the figures.
    pub slopes: Vec<f64>,
    /// The size of what it is left of: rounding may have left as much in the number as in one
    /// of this size.
    pub size: f64,
}

/// Why a formula has no value for its figures.
#[derive(Debug, Clone, PartialEq)]
pub enum FormulaError {
    /// A division by zero, a root of a negative number and the like.
    NotANumber,
    /// A table was asked for what it does not hold.
    Table(TableError),
}

impl std::fmt::Display for FormulaError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::NotANumber => f.write_str("the formula gives no number for these readings"),
            Self::Table(error) => error.fmt(f),
        }
    }
}

impl std::error::Error for FormulaError {}

/// The figures that a formula is worked out from: of each part, one or one for each position.
pub type Figures<'a> = &'a [Vec<f64>];

/// At which position a formula is worked out, and which of several it takes for the extremes.
#[derive(Debug, Clone, Copy)]
struct At<'a> {
    figures: Figures<'a>,
    /// The position at hand.
    place: usize,
    /// One choice for each expression that has one, in the order in which they are met.
    choices: Option<&'a [usize]>,
}

impl Formula {
    /// The positions at which it is worked out: those of its parts outside of a function over
    /// all positions; none where it is one figure.
    pub fn at(&self) -> Option<&Positions> {
        self.expression
            .single_parts()
            .into_iter()
            .find_map(|part| self.parts[part].at.as_ref())
    }

    /// Whether it takes all positions of a part together.
    pub fn takes_all_of(&self, part: usize) -> bool {
        let mut found = false;
        self.expression.visit(&mut |expression| {
            found |= matches!(expression, Expression::Over(_, of) if *of == part);
        });
        found
    }

    /// Whether it adds up all positions of a part.
    pub fn has_sums(&self) -> bool {
        let mut found = false;
        self.expression.visit(&mut |expression| {
            found |= matches!(expression, Expression::Over(Over::Sum, _));
        });
        found
    }

    /// Whether it follows the lowest, the highest or the greatest of several readings.
    pub fn has_extremes(&self) -> bool {
        let positions = |part: usize| self.parts[part].at.as_ref().map_or(1, Positions::len);
        self.choices(positions).iter().any(|count| *count > 1)
    }

    /// Whether it looks something up in a table of steps.
    pub fn has_steps(&self) -> bool {
        let mut found = false;
        self.expression.visit(&mut |expression| {
            found |= matches!(expression, Expression::Looked(table, _) if table.has_steps());
        });
        found
    }

    /// Its value with its slopes for `figures`, at the position `place`.
    ///
    /// The slopes follow the figures of the first part, then those of the second, and so on.
    /// Where the formula has extremes, they are those of these figures.
    ///
    /// # Errors
    ///
    /// [`FormulaError`], where there is no such number.
    pub fn evaluate(&self, figures: Figures<'_>, place: usize) -> Result<Sloped, FormulaError> {
        self.sloped(At {
            figures,
            place,
            choices: None,
        })
    }

    /// The same for every choice of positions as the extremes; one, where it has none.
    ///
    /// # Errors
    ///
    /// [`FormulaError`], where there is no such number for one of them.
    pub fn each_choice(
        &self,
        figures: Figures<'_>,
        place: usize,
    ) -> Result<Vec<Sloped>, FormulaError> {
        let counts: Vec<usize> = self.choices(|part| figures[part].len());
        let all = counts.iter().product::<usize>();
        (0..all)
            .map(|mut index| {
                let choices: Vec<usize> = counts
                    .iter()
                    .map(|count| {
                        let choice = index % count;
                        index /= count;
                        choice
                    })
                    .collect();
                self.sloped(At {
                    figures,
                    place,
                    choices: Some(&choices),
                })
            })
            .collect()
    }

    /// How many choices there are, with `positions` of each part.
    pub fn choices(&self, positions: impl Fn(usize) -> usize) -> Vec<usize> {
        let mut counts = Vec::new();
        self.expression.visit(&mut |expression| {
            if let Expression::Over(over, part) = expression {
                counts.extend(over.choices(positions(*part)));
            }
        });
        counts
    }

    fn sloped(&self, at: At<'_>) -> Result<Sloped, FormulaError> {
        let mut met = 0;
        let found = self.expression.evaluate(at, &mut met)?;
        let is_number = found.value.is_finite() && found.slopes.iter().all(|s| s.is_finite());
        if is_number {
            Ok(found)
        } else {
            Err(FormulaError::NotANumber)
        }
    }
}

impl Over {
    /// How many choices of positions it has among `count`; none where it needs none.
    fn choices(self, count: usize) -> Option<usize> {
        match self {
            Over::Sum | Over::Mean => None,
            Over::Lowest | Over::Highest | Over::GreatestDeviation => Some(count.max(1)),
            Over::Spread => Some((count * count.saturating_sub(1)).max(1)),
        }
    }

    /// Weights of the figures, for a choice of positions or for that of these figures.
    fn weights(self, figures: &[f64], choice: Option<usize>) -> Vec<f64> {
        let count = figures.len();
        let only = |place: usize| -> Vec<f64> {
            let mut weights = vec![0.0; count];
            weights[place] = 1.0;
            weights
        };
        let mean = figures.iter().sum::<f64>() / count as f64;
        let most = |of: &dyn Fn(f64) -> f64| {
            let order = |a: &usize, b: &usize| of(figures[*a]).total_cmp(&of(figures[*b]));
            (0..count).max_by(order).unwrap_or(0)
        };
        match self {
            Over::Sum => vec![1.0; count],
            Over::Mean => vec![1.0 / count as f64; count],
            Over::Lowest => only(choice.unwrap_or_else(|| most(&|x| -x))),
            Over::Highest => only(choice.unwrap_or_else(|| most(&|x| x))),
            Over::Spread => {
                let others = count.saturating_sub(1).max(1);
                let (high, low) = match choice {
                    None => (most(&|x| x), most(&|x| -x)),
                    Some(choice) => {
                        let (high, other) = (choice / others, choice % others);
                        (high, if other >= high { other + 1 } else { other })
                    }
                };
                let mut weights = only(high);
                if low < count {
                    weights[low] -= 1.0;
                }
                weights
            }
            Over::GreatestDeviation => {
                let one = choice.unwrap_or_else(|| most(&|x| (x - mean).abs()));
                let sign = if figures[one] < mean { -1.0 } else { 1.0 };
                let weight = |place: usize| f64::from(u8::from(place == one)) - 1.0 / count as f64;
                (0..count).map(|place| sign * weight(place)).collect()
            }
        }
    }
}

impl Expression {
    /// The parts of which one figure is taken.
    pub fn single_parts(&self) -> Vec<usize> {
        let mut parts = Vec::new();
        self.visit(&mut |expression| {
            if let Expression::Part(part) = expression {
                parts.push(*part);
            }
        });
        parts
    }

    /// Calls `seen` for the expression and all that it is made of, in the order of reading.
    fn visit(&self, seen: &mut impl FnMut(&Expression)) {
        seen(self);
        match self {
            Expression::Number(_) | Expression::Part(_) | Expression::Over(..) => {}
            Expression::Negative(inner)
            | Expression::Of(_, inner)
            | Expression::Looked(_, inner) => inner.visit(seen),
            Expression::Both(_, left, right) => {
                left.visit(seen);
                right.visit(seen);
            }
        }
    }

    fn evaluate(&self, at: At<'_>, met: &mut usize) -> Result<Sloped, FormulaError> {
        let figures: usize = at.figures.iter().map(Vec::len).sum();
        let before = |part: usize| at.figures[..part].iter().map(Vec::len).sum::<usize>();
        match self {
            Expression::Number(value) => Ok(Sloped {
                value: *value,
                slopes: vec![0.0; figures],
                size: value.abs(),
            }),
            Expression::Part(part) => {
                let own = &at.figures[*part];
                let place = if own.len() > 1 { at.place } else { 0 };
                let mut slopes = vec![0.0; figures];
                slopes[before(*part) + place] = 1.0;
                Ok(Sloped {
                    value: own[place],
                    slopes,
                    size: own[place].abs(),
                })
            }
            Expression::Over(over, part) => {
                let own = &at.figures[*part];
                let choice = over.choices(own.len()).and_then(|_| {
                    let choice = at.choices.map(|choices| choices[*met]);
                    *met += 1;
                    choice
                });
                let weights = over.weights(own, choice);
                let each = || {
                    own.iter()
                        .zip(&weights)
                        .map(|(figure, weight)| figure * weight)
                };
                let mut slopes = vec![0.0; figures];
                let first = before(*part);
                slopes[first..first + own.len()].copy_from_slice(&weights);
                Ok(Sloped {
                    value: each().sum(),
                    slopes,
                    size: each().map(f64::abs).sum(),
                })
            }
            Expression::Negative(inner) => Ok(inner.evaluate(at, met)?.times(-1.0)),
            Expression::Of(function, inner) => {
                let inner = inner.evaluate(at, met)?;
                let (value, slope) = function.of(inner.value);
                Ok(inner.through(value, slope))
            }
            Expression::Looked(table, inner) => {
                let inner = inner.evaluate(at, met)?;
                let (value, slope) = table.look_up(inner.value).map_err(FormulaError::Table)?;
                Ok(inner.through(value, slope))
            }
            Expression::Both(operator, left, right) => {
                let (left, right) = (left.evaluate(at, met)?, right.evaluate(at, met)?);
                Ok(operator.of(&left, &right))
            }
        }
    }
}

impl Sloped {
    fn times(self, factor: f64) -> Self {
        let value = factor * self.value;
        self.through(value, factor)
    }

    /// What a function makes of it: its `value`, and its `slope` there.
    fn through(mut self, value: f64, slope: f64) -> Self {
        self.value = value;
        self.size = value.abs().max(self.size * slope.abs());
        for own in &mut self.slopes {
            *own *= slope;
        }
        self
    }
}

impl Function {
    /// The value and the slope at `x`.
    fn of(self, x: f64) -> (f64, f64) {
        match self {
            Function::Root => {
                let root = x.sqrt();
                (root, 0.5 / root)
            }
            Function::Exp => (libm::exp(x), libm::exp(x)),
            Function::Ln => (libm::log(x), 1.0 / x),
            Function::Size => (x.abs(), if x < 0.0 { -1.0 } else { 1.0 }),
        }
    }
}

impl Operator {
    fn of(self, left: &Sloped, right: &Sloped) -> Sloped {
        let (a, b) = (left.value, right.value);
        let (value, by_left, by_right) = match self {
            Operator::Add => (a + b, 1.0, 1.0),
            Operator::Subtract => (a - b, 1.0, -1.0),
            Operator::Multiply => (a * b, b, a),
            Operator::Divide => (a / b, 1.0 / b, -a / (b * b)),
            Operator::Power => power(a, b, right.slopes.iter().any(|slope| *slope != 0.0)),
        };
        let slopes = left.slopes.iter().zip(&right.slopes).map(|(l, r)| {
            let by_left = by_left * l;
            let by_right = if *r == 0.0 { 0.0 } else { by_right * r };
            let sum = by_left + by_right;
            // What rounding leaves of slopes that cancel is none.
            if sum.abs() > noise_of(by_left.abs() + by_right.abs()) {
                sum
            } else {
                0.0
            }
        });
        let sizes = (left.size * by_left.abs()).max(right.size * by_right.abs());
        Sloped {
            value,
            slopes: slopes.collect(),
            size: value.abs().max(sizes),
        }
    }
}

/// aᵇ with its slopes by a and by b; the latter only where b is worked out from readings, for
/// it does not exist where a is negative.
fn power(a: f64, b: f64, b_varies: bool) -> (f64, f64, f64) {
    let value = libm::pow(a, b);
    let by_a = if b == 0.0 {
        0.0
    } else {
        b * libm::pow(a, b - 1.0)
    };
    let by_b = if b_varies { value * libm::log(a) } else { 0.0 };
    (value, by_a, by_b)
}
