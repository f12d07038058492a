//! The text of a formula → [`Formula`].
//!
//! Arithmetic as it is written in a manual: numbers, the ids of measures and conditions,
//! `+ − · / ^`, parentheses, the names of tables, and a few functions. An id may have hyphens
//! in it, so a minus has spaces around it.

use std::ops::Range;
use std::sync::Arc;

use super::spelling::{listed, nearest};
use crate::job::{Expression, Formula, Function, Input, Operator, Over, Positions, Table};
use crate::quantity::{Dimension, Unit};

/// What is wrong with a formula, and what to do.
pub type Fault = (String, String);

/// What a formula may name.
pub struct Names<'a> {
    /// The measures above it, and the conditions.
    pub parts: Vec<Input>,
    /// The tables.
    pub tables: &'a [Arc<Table>],
    /// The measures that follow the lowest, the highest or the greatest of several readings.
    pub extremes: Vec<String>,
    /// The measures above it that have problems of their own.
    pub refused: Vec<String>,
}

/// The functions of all positions of a measure.
const OVER: [(&str, Over); 6] = [
    ("sum", Over::Sum),
    ("mean", Over::Mean),
    ("lowest", Over::Lowest),
    ("highest", Over::Highest),
    ("spread", Over::Spread),
    ("greatest-deviation", Over::GreatestDeviation),
];

/// The functions of one number.
const OF: [(&str, Function); 4] = [
    ("root", Function::Root),
    ("exp", Function::Exp),
    ("ln", Function::Ln),
    ("size", Function::Size),
];

/// Whether a measure, a condition or a table of this id could not be told from a function.
pub fn is_reserved(id: &str) -> bool {
    OVER.iter().map(|(name, _)| name).any(|name| *name == id)
        || OF.iter().map(|(name, _)| name).any(|name| *name == id)
}

/// The most choices of positions as the extremes that a formula may have.
const MOST_CHOICES: usize = 5_000;

/// The deepest nesting of parentheses.
const DEEPEST: usize = 30;

/// The formula in `text`, whose result is in `unit`.
///
/// # Errors
///
/// What is wrong with it.
pub fn formula(text: &str, unit: &Unit, names: &Names<'_>) -> Result<Formula, Fault> {
    let tokens = tokens(text)?;
    let mut parser = Parser {
        tokens: &tokens,
        at: 0,
        depth: 0,
        names,
        parts: Vec::new(),
    };
    let (expression, kind) = parser.sum()?;
    if let Some(token) = parser.peek() {
        return Err(fault(
            format!("`{}` is not expected here", token.text),
            "write an operator between two numbers, and close every parenthesis",
        ));
    }
    let formula = Formula {
        text: text.to_owned(),
        parts: parser.parts,
        expression,
        least_read: None,
    };
    gives(&kind, unit)?;
    if formula.parts.is_empty() {
        return Err(fault(
            "this formula names no reading",
            "name the ids of the measures that it is worked out from",
        ));
    }
    one_set(&formula)?;
    let positions = |part: usize| formula.parts[part].at.as_ref().map_or(1, Positions::len);
    if formula.choices(positions).iter().product::<usize>() > MOST_CHOICES {
        return Err(fault(
            "this formula has too many extremes in it",
            "split it into measures that are judged each for itself",
        ));
    }
    Ok(formula)
}

fn fault(message: impl Into<String>, hint: impl Into<String>) -> Fault {
    (message.into(), hint.into())
}

/// What kind of number an expression gives, as far as that can be told.
#[derive(Debug, Clone, PartialEq)]
enum Gives {
    /// A number without a unit.
    Plain,
    /// A fraction: one thing divided by another in the same unit.
    Fraction,
    /// A figure in this unit.
    In(&'static Unit),
    /// Something else.
    Other,
}

/// Whether the result fits the unit of the measure.
fn gives(kind: &Gives, unit: &Unit) -> Result<(), Fault> {
    match kind {
        Gives::Fraction if unit.symbol() == "%" => Err(fault(
            "this formula gives a fraction, and the measure's unit is `%`",
            "write `100 * (…)`, or use the unit `1`",
        )),
        Gives::In(own) if own.symbol() != unit.symbol() => Err(fault(
            format!(
                "this formula gives {}, and the measure's unit is `{}`",
                own.symbol(),
                unit.symbol()
            ),
            "give both the same unit, or convert with a factor",
        )),
        Gives::Plain | Gives::Fraction | Gives::In(_) | Gives::Other => Ok(()),
    }
}

/// All parts of which one figure is taken are read at the same positions.
fn one_set(formula: &Formula) -> Result<(), Fault> {
    let Some(at) = formula.at() else {
        return Ok(());
    };
    let parts = formula.expression.single_parts().into_iter();
    let mut parts = parts.map(|part| &formula.parts[part]);
    let other = parts.find(|part| part.at.as_ref().is_some_and(|own| own.id != at.id));
    other.map_or(Ok(()), |other| {
        Err(fault(
            format!(
                "`{}` is read at other positions than the rest of this formula",
                other.of.id()
            ),
            "use measures of one set of positions, or `mean(…)`, `lowest(…)` and the like",
        ))
    })
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Kind {
    Number,
    Name,
    Sign,
}

#[derive(Debug, Clone)]
struct Token<'a> {
    kind: Kind,
    text: &'a str,
}

fn tokens(text: &str) -> Result<Vec<Token<'_>>, Fault> {
    let mut found = Vec::new();
    let mut rest = 0..text.len();
    while let Some(first) = text[rest.clone()].chars().next() {
        let here = &text[rest.clone()];
        let (kind, length) = if first.is_whitespace() {
            rest.start += first.len_utf8();
            continue;
        } else if first.is_ascii_digit() || first == '.' {
            (Kind::Number, end_of_number(here))
        } else if first.is_ascii_lowercase() {
            (Kind::Name, end_of_name(here))
        } else if "+-−*·×/÷^()".contains(first) {
            (Kind::Sign, first.len_utf8())
        } else if first == ',' {
            return Err(fault(
                "a comma has no meaning in a formula",
                "write a decimal point, such as 234.5; `spread(…)` and the like take one measure \
                 that is read at several positions",
            ));
        } else {
            return Err(fault(
                format!("`{first}` has no meaning in a formula"),
                "use numbers, ids in small letters, + - * / ^ and parentheses",
            ));
        };
        let span: Range<usize> = rest.start..rest.start + length;
        found.push(Token {
            kind,
            text: &text[span.clone()],
        });
        rest.start = span.end;
    }
    Ok(found)
}

fn end_of_number(text: &str) -> usize {
    let end = text.find(|c: char| !(c.is_ascii_digit() || c == '.'));
    end.unwrap_or(text.len())
}

/// An id: small letters, digits and single hyphens between them.
fn end_of_name(text: &str) -> usize {
    let is_word = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit();
    let mut end = 0;
    let mut letters = text.char_indices().peekable();
    while let Some((place, letter)) = letters.next() {
        let joins = letter == '-' && letters.peek().is_some_and(|(_, next)| is_word(*next));
        if !(is_word(letter) || joins) {
            break;
        }
        end = place + letter.len_utf8();
    }
    end
}

struct Parser<'a> {
    tokens: &'a [Token<'a>],
    at: usize,
    depth: usize,
    names: &'a Names<'a>,
    parts: Vec<Input>,
}

type Parsed = Result<(Expression, Gives), Fault>;

impl<'a> Parser<'a> {
    fn peek(&self) -> Option<&'a Token<'a>> {
        self.tokens.get(self.at)
    }

    /// Takes the next sign if it is one of `signs`.
    fn take(&mut self, signs: &str) -> Option<&'a str> {
        let token = self.peek()?;
        let is_one = token.kind == Kind::Sign && signs.contains(token.text);
        is_one.then(|| {
            self.at += 1;
            token.text
        })
    }

    fn sum(&mut self) -> Parsed {
        let (mut left, mut kind) = self.product()?;
        while let Some(sign) = self.take("+-−") {
            let (right, other) = self.product()?;
            let operator = if sign == "+" {
                Operator::Add
            } else {
                Operator::Subtract
            };
            kind = added(operator, &kind, &other)?;
            left = Expression::Both(operator, Box::new(left), Box::new(right));
        }
        Ok((left, kind))
    }

    fn product(&mut self) -> Parsed {
        let (mut left, mut kind) = self.signed()?;
        while let Some(sign) = self.take("*·×/÷") {
            let (right, other) = self.signed()?;
            let operator = if "*·×".contains(sign) {
                Operator::Multiply
            } else {
                Operator::Divide
            };
            kind = multiplied(operator, &kind, &other);
            left = Expression::Both(operator, Box::new(left), Box::new(right));
        }
        Ok((left, kind))
    }

    fn signed(&mut self) -> Parsed {
        if self.take("-−").is_some() {
            self.deeper()?;
            let (inner, kind) = self.signed()?;
            self.depth -= 1;
            return Ok((Expression::Negative(Box::new(inner)), kind));
        }
        self.power()
    }

    fn power(&mut self) -> Parsed {
        let (base, kind) = self.atom()?;
        if self.take("^").is_none() {
            return Ok((base, kind));
        }
        self.deeper()?;
        let (exponent, _) = self.signed()?;
        self.depth -= 1;
        let kind = if kind == Gives::Plain {
            Gives::Plain
        } else {
            Gives::Other
        };
        let both = Expression::Both(Operator::Power, Box::new(base), Box::new(exponent));
        Ok((both, kind))
    }

    fn deeper(&mut self) -> Result<(), Fault> {
        self.depth += 1;
        if self.depth > DEEPEST {
            return Err(fault(
                "this formula is nested too deeply",
                "work out a part of it as a measure of its own, and use that",
            ));
        }
        Ok(())
    }

    fn atom(&mut self) -> Parsed {
        let Some(token) = self.peek() else {
            return Err(fault(
                "this formula ends too early",
                "write a number, an id or a function after the last sign",
            ));
        };
        match token.kind {
            Kind::Number => {
                self.at += 1;
                let number = token
                    .text
                    .parse()
                    .ok()
                    .filter(|number: &f64| number.is_finite());
                let number = number.ok_or_else(|| {
                    fault(
                        format!("`{}` is not a number", token.text),
                        "write it with one decimal point at most",
                    )
                })?;
                Ok((Expression::Number(number), Gives::Plain))
            }
            Kind::Name => {
                self.at += 1;
                if self.take("(").is_some() {
                    return self.called(token.text);
                }
                self.part(token.text)
            }
            Kind::Sign if token.text == "(" => {
                self.at += 1;
                self.deeper()?;
                let inner = self.sum()?;
                self.depth -= 1;
                self.close()?;
                Ok(inner)
            }
            Kind::Sign => Err(fault(
                format!("`{}` is not expected here", token.text),
                "write a number, an id or a function before it",
            )),
        }
    }

    fn close(&mut self) -> Result<(), Fault> {
        let closed = self.take(")").map(|_| ());
        closed.ok_or_else(|| fault("a parenthesis is not closed", "add `)` where it ends"))
    }

    /// A function or a table, behind its opening parenthesis.
    fn called(&mut self, name: &str) -> Parsed {
        if let Some((_, over)) = OVER.iter().find(|(known, _)| *known == name) {
            return self.over(name, *over);
        }
        self.deeper()?;
        let (inner, kind) = self.sum()?;
        self.depth -= 1;
        self.close()?;
        if let Some((_, function)) = OF.iter().find(|(known, _)| *known == name) {
            let kind = match (function, kind) {
                (Function::Size, kind) => kind,
                (Function::Root | Function::Exp | Function::Ln, Gives::Plain) => Gives::Plain,
                (Function::Root | Function::Exp | Function::Ln, _) => Gives::Other,
            };
            return Ok((Expression::Of(*function, Box::new(inner)), kind));
        }
        let Some(table) = self.names.tables.iter().find(|table| table.id == name) else {
            let known = OVER.iter().map(|(name, _)| *name);
            let known = known.chain(OF.iter().map(|(name, _)| *name));
            let tables = self.names.tables.iter().map(|table| table.id.as_str());
            let known: Vec<&str> = known.chain(tables).collect();
            let hint = match nearest(name, &known) {
                Some(near) => format!("did you mean `{near}`?"),
                None => format!("there are {}", listed(&known)),
            };
            return Err(fault(
                format!("there is no table or function `{name}`"),
                hint,
            ));
        };
        if let Gives::In(unit) = kind
            && unit.symbol() != table.from.symbol()
        {
            return Err(fault(
                format!(
                    "the table `{name}` is asked in {}, not in {}",
                    table.from.symbol(),
                    unit.symbol()
                ),
                "give the measure the unit of the table",
            ));
        }
        let kind = Gives::In(table.to);
        Ok((Expression::Looked(Arc::clone(table), Box::new(inner)), kind))
    }

    /// A function of all positions of one measure.
    fn over(&mut self, name: &str, over: Over) -> Parsed {
        let id = self.peek().filter(|token| token.kind == Kind::Name);
        let Some(id) = id else {
            return Err(fault(
                format!("`{name}` takes the id of one measure"),
                format!(
                    "write `{name}(…)` with the id of a measure that is read at several positions"
                ),
            ));
        };
        self.at += 1;
        self.close()?;
        let part = self.named(id.text)?;
        let Input { unit, at, .. } = &self.parts[part];
        if at.is_none() {
            return Err(fault(
                format!(
                    "`{name}` needs several positions, and `{}` has one figure",
                    id.text
                ),
                format!("write `{}` alone, or read it at several positions", id.text),
            ));
        }
        let kind = match over {
            Over::Lowest | Over::Highest | Over::Mean => Gives::In(unit),
            Over::Sum if unit.dimension() == Dimension::Temperature => Gives::Other,
            Over::Sum => Gives::In(unit),
            Over::Spread | Over::GreatestDeviation => difference(unit),
        };
        Ok((Expression::Over(over, part), kind))
    }

    /// One figure of a measure or a condition.
    fn part(&mut self, id: &str) -> Parsed {
        let part = self.named(id)?;
        Ok((Expression::Part(part), Gives::In(self.parts[part].unit)))
    }

    /// The part called `id`.
    fn named(&mut self, id: &str) -> Result<usize, Fault> {
        if let Some(known) = self.parts.iter().position(|part| part.of.id() == id) {
            return Ok(known);
        }
        let Some(part) = self.names.parts.iter().find(|part| part.of.id() == id) else {
            let ids: Vec<&str> = self.names.parts.iter().map(|part| part.of.id()).collect();
            let hint = match nearest(id, &ids) {
                Some(near) => format!("did you mean `{near}`?"),
                None if ids.is_empty() => {
                    "write the measures that it is worked out from above it".to_owned()
                }
                None => format!(
                    "it may name a measure with a figure above it, or a condition: {}",
                    listed(&ids)
                ),
            };
            return Err(fault(
                format!("there is no measure or condition `{id}` for this formula"),
                hint,
            ));
        };
        self.parts.push(part.clone());
        Ok(self.parts.len() - 1)
    }
}

/// What a difference of two figures in `unit` is in.
fn difference(unit: &'static Unit) -> Gives {
    Unit::named(unit.of_differences()).map_or(Gives::Other, Gives::In)
}

fn added(operator: Operator, left: &Gives, right: &Gives) -> Result<Gives, Fault> {
    match (left, right) {
        (Gives::In(one), Gives::In(other)) if one.symbol() != other.symbol() => {
            let is_offset =
                one.dimension() == Dimension::Temperature && other.symbol() == one.of_differences();
            if is_offset {
                return Ok(Gives::In(one));
            }
            Err(fault(
                format!(
                    "{} and {} cannot be added or subtracted",
                    one.symbol(),
                    other.symbol()
                ),
                "give both measures the same unit",
            ))
        }
        (Gives::In(unit), Gives::In(_)) => Ok(match operator {
            Operator::Subtract => difference(unit),
            _ if unit.dimension() == Dimension::Temperature => Gives::Other,
            _ => Gives::In(unit),
        }),
        (Gives::In(unit), Gives::Plain) | (Gives::Plain, Gives::In(unit))
            if unit.dimension() != Dimension::Temperature =>
        {
            Ok(Gives::In(unit))
        }
        (Gives::Plain, Gives::Plain) => Ok(Gives::Plain),
        (Gives::Plain | Gives::Fraction, Gives::Plain | Gives::Fraction) => Ok(Gives::Fraction),
        (Gives::Plain | Gives::Fraction | Gives::In(_) | Gives::Other, _) => Ok(Gives::Other),
    }
}

fn multiplied(operator: Operator, left: &Gives, right: &Gives) -> Gives {
    match (operator, left, right) {
        (Operator::Divide, Gives::In(one), Gives::In(other)) if one.symbol() == other.symbol() => {
            Gives::Fraction
        }
        (_, Gives::Plain, Gives::Plain) => Gives::Plain,
        (_, Gives::Fraction, Gives::Fraction) => Gives::Fraction,
        _ => Gives::Other,
    }
}

#[cfg(test)]
mod tests;
