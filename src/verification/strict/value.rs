//! The values of a PDF (ISO 32000-1, 7.3).

use std::borrow::Cow;

/// A value, as small as its parts in the file.
#[derive(Debug, Clone)]
pub enum Value<'a> {
    /// A number, `true`, `false` or `null`, as it is written.
    Word(&'a [u8]),
    /// A name without its slash.
    Name(Cow<'a, [u8]>),
    /// The bytes of a string.
    Text(Vec<u8>),
    Array(Vec<Value<'a>>),
    Dictionary(Dictionary<'a>),
    /// The number of another object.
    Reference(u32),
}

/// A dictionary in which no key stands twice.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Dictionary<'a> {
    /// Sorted by key.
    entries: Vec<(Cow<'a, [u8]>, Value<'a>)>,
}

/// Two writers give one number in different digits: `1.0` and `1`.
impl PartialEq for Value<'_> {
    fn eq(&self, other: &Self) -> bool {
        match (self, other) {
            (Self::Word(one), Self::Word(other)) => {
                one == other || number(one).is_some_and(|one| number(other) == Some(one))
            }
            (Self::Name(one), Self::Name(other)) => one == other,
            (Self::Text(one), Self::Text(other)) => one == other,
            (Self::Array(one), Self::Array(other)) => one == other,
            (Self::Dictionary(one), Self::Dictionary(other)) => one == other,
            (Self::Reference(one), Self::Reference(other)) => one == other,
            _ => false,
        }
    }
}

fn number(word: &[u8]) -> Option<f32> {
    std::str::from_utf8(word).ok()?.parse().ok()
}

impl<'a> Dictionary<'a> {
    /// Nothing, where a key stands twice.
    pub fn new(mut entries: Vec<(Cow<'a, [u8]>, Value<'a>)>) -> Option<Self> {
        entries.sort_by(|(one, _), (other, _)| one.cmp(other));
        let is_single = entries.windows(2).all(|pair| pair[0].0 != pair[1].0);
        is_single.then_some(Self { entries })
    }

    pub fn get(&self, key: &str) -> Option<&Value<'a>> {
        let at = self
            .entries
            .binary_search_by(|(own, _)| own.as_ref().cmp(key.as_bytes()));
        at.ok().map(|at| &self.entries[at].1)
    }

    pub fn has(&self, key: &str) -> bool {
        self.get(key).is_some()
    }

    pub fn values(&self) -> impl Iterator<Item = &Value<'a>> {
        self.entries.iter().map(|(_, value)| value)
    }

    /// Whether it has no keys but these.
    pub fn has_only(&self, keys: &[&str]) -> bool {
        let mut own = self.entries.iter();
        own.all(|(own, _)| keys.iter().any(|key| key.as_bytes() == own.as_ref()))
    }

    /// Whether it has exactly these keys.
    pub fn has_exactly(&self, keys: &[&str]) -> bool {
        self.entries.len() == keys.len() && self.has_only(keys)
    }

    /// Without these keys.
    pub fn without(&self, keys: &[&str]) -> Self {
        let mut entries = self.entries.clone();
        entries.retain(|(own, _)| !keys.iter().any(|key| key.as_bytes() == own.as_ref()));
        Self { entries }
    }

    pub fn is_name(&self, key: &str, name: &str) -> bool {
        self.get(key).is_some_and(|value| value.is_name(name))
    }
}

impl<'a> Value<'a> {
    pub fn is_name(&self, name: &str) -> bool {
        matches!(self, Self::Name(own) if own.as_ref() == name.as_bytes())
    }

    pub fn is_word(&self, word: &str) -> bool {
        matches!(self, Self::Word(own) if *own == word.as_bytes())
    }

    pub fn integer(&self) -> Option<u64> {
        let Self::Word(word) = self else { return None };
        let is_plain = word.len() < 16 && word.iter().all(u8::is_ascii_digit);
        is_plain.then(|| std::str::from_utf8(word).ok()?.parse().ok())?
    }

    pub fn is_number(&self) -> bool {
        matches!(self, Self::Word(word) if number(word).is_some())
    }

    pub fn text(&self) -> Option<&[u8]> {
        match self {
            Self::Text(text) => Some(text),
            _ => None,
        }
    }

    pub fn array(&self) -> Option<&[Value<'a>]> {
        match self {
            Self::Array(values) => Some(values),
            _ => None,
        }
    }

    pub fn dictionary(&self) -> Option<&Dictionary<'a>> {
        match self {
            Self::Dictionary(dictionary) => Some(dictionary),
            _ => None,
        }
    }

    pub fn reference(&self) -> Option<u32> {
        match self {
            Self::Reference(number) => Some(*number),
            _ => None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_is_the_same_in_other_digits_and_a_word_is_not() {
        assert_eq!(Value::Word(b"15.288002"), Value::Word(b"15.2880020"));
        assert_eq!(Value::Word(b"1"), Value::Word(b"1.0"));
        assert_ne!(Value::Word(b"1"), Value::Word(b"2"));
        assert_ne!(Value::Word(b"true"), Value::Word(b"1"));
        assert_ne!(Value::Word(b"1"), Value::Reference(1));
    }
}
