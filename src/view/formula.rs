//! A formula as a reader of the report sees it: with the names of the measures, not their ids.

use super::figures::shortest;
use super::words::Words;
use crate::job::{Expression, Formula, Function, InputOf, Limits, Operator, Over};

/// The formula of a figure in words and signs.
pub fn text(formula: &Formula, limits: &Limits, words: &Words) -> String {
    let text = words.say_with("worked-out", &[("formula", &alone(formula, limits, words))]);
    match formula.least_read {
        None => text,
        Some(least) => {
            let variables = [("formula", text.as_str()), ("count", &least.to_string())];
            words.say_with("worked-out-least", &variables)
        }
    }
}

/// The same without a word before it.
pub fn alone(formula: &Formula, limits: &Limits, words: &Words) -> String {
    let writer = Writer {
        formula,
        limits,
        words,
    };
    writer.write(&formula.expression).text
}

struct Writer<'a> {
    formula: &'a Formula,
    limits: &'a Limits,
    words: &'a Words,
}

/// How tightly the outermost sign of a text binds: what binds less is put in parentheses.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Binds {
    Sum,
    Product,
    Sign,
    Power,
    Alone,
}

struct Written {
    text: String,
    binds: Binds,
}

impl Written {
    /// In parentheses, if it binds less than `least`.
    fn at_least(self, least: Binds) -> String {
        if self.binds < least {
            format!("({})", self.text)
        } else {
            self.text
        }
    }
}

impl Writer<'_> {
    fn write(&self, expression: &Expression) -> Written {
        let alone = |text| Written {
            text,
            binds: Binds::Alone,
        };
        match expression {
            Expression::Number(number) => alone(shortest(*number, self.words)),
            Expression::Part(part) => alone(self.name(*part)),
            Expression::Over(over, part) => {
                let id = match over {
                    Over::Sum => "over-sum",
                    Over::Mean => "over-mean",
                    Over::Lowest => "over-lowest",
                    Over::Highest => "over-highest",
                    Over::Spread => "over-spread",
                    Over::GreatestDeviation => "over-deviation",
                };
                alone(self.words.say_with(id, &[("name", &self.name(*part))]))
            }
            Expression::Negative(inner) => Written {
                text: format!("\u{2212}{}", self.write(inner).at_least(Binds::Sign)),
                binds: Binds::Sign,
            },
            Expression::Of(function, inner) => {
                let inner = self.write(inner);
                match function {
                    Function::Size => alone(format!("|{}|", inner.text)),
                    Function::Root => alone(format!("√({})", inner.text)),
                    Function::Exp => alone(format!("exp({})", inner.text)),
                    Function::Ln => alone(format!("ln({})", inner.text)),
                }
            }
            Expression::Looked(table, inner) => alone(self.words.say_with(
                "looked-up",
                &[("source", &table.source), ("of", &self.write(inner).text)],
            )),
            Expression::Both(operator, left, right) => self.both(*operator, left, right),
        }
    }

    fn both(&self, operator: Operator, left: &Expression, right: &Expression) -> Written {
        let (left, right) = (self.write(left), self.write(right));
        // What stands behind a minus or a stroke needs parentheses where it binds alike.
        let (sign, binds, behind) = match operator {
            Operator::Add => (" + ", Binds::Sum, Binds::Sum),
            Operator::Subtract => (" \u{2212} ", Binds::Sum, Binds::Product),
            Operator::Multiply => (" · ", Binds::Product, Binds::Product),
            Operator::Divide => (" / ", Binds::Product, Binds::Sign),
            Operator::Power => (" ^ ", Binds::Power, Binds::Power),
        };
        let front = match operator {
            Operator::Power => Binds::Alone,
            Operator::Add | Operator::Subtract | Operator::Multiply | Operator::Divide => binds,
        };
        Written {
            text: format!("{}{sign}{}", left.at_least(front), right.at_least(behind)),
            binds,
        }
    }

    /// The printed name of a part.
    fn name(&self, part: usize) -> String {
        let of = self.formula.parts.get(part).map(|part| &part.of);
        let name = of.and_then(|of| match of {
            InputOf::Measure(id) => self.limits.measure(id).map(|found| found.name.clone()),
            InputOf::Condition(id) => {
                let mut conditions = self.limits.conditions.iter();
                let found = conditions.find(|condition| condition.id == *id);
                found.map(|found| found.name.clone())
            }
        });
        self.words
            .say_with("quoted", &[("name", &name.unwrap_or_default())])
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::job::{DecisionRule, Input};
    use crate::quantity::Unit;

    fn written(expression: Expression) -> String {
        let formula = Formula {
            text: String::new(),
            parts: vec![Input {
                of: InputOf::Measure("m".to_owned()),
                unit: Unit::named("s").unwrap(),
                at: None,
            }],
            expression,
            least_read: None,
        };
        let limits = Limits {
            rule: DecisionRule::Simple,
            rule_named: true,
            agreed: None,
            measures: Vec::new(),
            conditions: Vec::new(),
        };
        text(&formula, &limits, &Words::english())
    }

    fn both(operator: Operator, left: Expression, right: Expression) -> Expression {
        Expression::Both(operator, Box::new(left), Box::new(right))
    }

    /// Parentheses stand where leaving them out would say something else, and nowhere else.
    #[test]
    fn parentheses_where_they_are_needed() {
        let number = |value: f64| Expression::Number(value);
        use Operator::{Add, Divide, Multiply, Power, Subtract};
        for (expression, wanted) in [
            (
                both(Multiply, both(Add, number(1.0), number(2.0)), number(3.0)),
                "(1 + 2) · 3",
            ),
            (
                both(Add, number(1.0), both(Multiply, number(2.0), number(3.0))),
                "1 + 2 · 3",
            ),
            (
                both(
                    Subtract,
                    number(1.0),
                    both(Subtract, number(2.0), number(3.0)),
                ),
                "1 − (2 − 3)",
            ),
            (
                both(
                    Divide,
                    number(1.0),
                    both(Multiply, number(2.0), number(3.0)),
                ),
                "1 / (2 · 3)",
            ),
            (
                both(Power, both(Power, number(2.0), number(3.0)), number(2.0)),
                "(2 ^ 3) ^ 2",
            ),
            (
                both(
                    Power,
                    Expression::Negative(Box::new(number(2.0))),
                    number(2.0),
                ),
                "(−2) ^ 2",
            ),
        ] {
            let found = written(expression);
            assert!(found.contains(wanted), "{found} is not {wanted}");
        }
    }
}
