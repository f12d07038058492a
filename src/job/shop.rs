//! The shop that signs for the work.

use std::fmt;

use schemars::JsonSchema;
use serde::Deserialize;

use crate::quantity::System;

/// A shop's own particulars.
#[derive(Debug, Clone)]
pub struct Shop {
    /// The shop's name, as printed at the top of the report.
    pub name: String,
    /// Postal address, line by line.
    pub address: Vec<String>,
    /// Telephone.
    pub phone: Option<String>,
    /// Electronic mail.
    pub email: Option<String>,
    /// Licence or registration.
    pub licence: Option<String>,
    /// The paper that the shop prints on.
    pub paper: Paper,
    /// The language it writes in, as a BCP 47 tag.
    pub language: String,
    /// The second family of units in which figures are given.
    pub second_units: Option<System>,
    /// The address of the time-stamp authority it uses.
    pub time_stamp: Option<String>,
    /// The file of its logo, beside `shop.toml`.
    pub logo: Option<String>,
    /// The colour of its marks and labels.
    pub accent: Option<Accent>,
}

impl Shop {
    /// Whether `holder`, the name in a certificate, has the shop's name in it, in whatever
    /// case.
    pub fn is_named_by(&self, holder: &str) -> bool {
        let name = self.name.to_lowercase();
        holder.to_lowercase().contains(&name)
    }
}

/// A colour that can be read on white paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Accent([u8; 3]);

/// Why a colour cannot be the accent.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum AccentError {
    /// It is not written as `#` and six hexadecimal digits.
    Spelled,
    /// Its contrast against white is too low: so much to one.
    Pale(f64),
}

impl Accent {
    /// The least contrast of text against its ground (WCAG 2.2, 1.4.3).
    pub const LEAST_CONTRAST: f64 = 4.5;

    /// The colour written as `text`, such as `#274b6d`.
    ///
    /// # Errors
    /// [`AccentError`] when it is not written so, or cannot be read on white.
    pub fn new(text: &str) -> Result<Self, AccentError> {
        let digits = text.strip_prefix('#').ok_or(AccentError::Spelled)?;
        if digits.len() != 6 || !digits.bytes().all(|digit| digit.is_ascii_hexdigit()) {
            return Err(AccentError::Spelled);
        }
        let number = u32::from_str_radix(digits, 16).map_err(|_| AccentError::Spelled)?;
        let [_, red, green, blue] = number.to_be_bytes();
        let accent = Self([red, green, blue]);
        let contrast = accent.contrast_on_white();
        if contrast < Self::LEAST_CONTRAST {
            return Err(AccentError::Pale(contrast));
        }
        Ok(accent)
    }

    /// Contrast against white, from 1 to 21 (WCAG 2.2, "contrast ratio" and "relative
    /// luminance").
    pub fn contrast_on_white(self) -> f64 {
        let linear = |channel: u8| {
            let share = f64::from(channel) / 255.0;
            if share <= 0.040_45 {
                share / 12.92
            } else {
                libm::pow((share + 0.055) / 1.055, 2.4)
            }
        };
        let [red, green, blue] = self.0.map(linear);
        1.05 / (0.2126 * red + 0.7152 * green + 0.0722 * blue + 0.05)
    }
}

impl fmt::Display for Accent {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let [red, green, blue] = self.0;
        write!(f, "#{red:02x}{green:02x}{blue:02x}")
    }
}

/// A paper size.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Paper {
    /// A4
    A4,
    /// US Letter
    UsLetter,
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The edge of WCAG 1.4.3 among the greys: #767676 has 4.5422, #777777 has 4.4781
    /// (well-known; computed with Python). Black has 21.
    #[test]
    fn an_accent_can_be_read_on_white() {
        assert_eq!(
            Accent::new("#767676").map(|a| a.to_string()),
            Ok("#767676".into())
        );
        assert!((Accent([0, 0, 0]).contrast_on_white() - 21.0).abs() < 1e-9);
        let Err(AccentError::Pale(contrast)) = Accent::new("#777777") else {
            panic!("too pale");
        };
        assert!((contrast - 4.4781).abs() < 1e-4);
    }

    #[test]
    fn an_accent_is_written_in_six_digits() {
        for text in [
            "", "274b6d", "#274b6", "#274b6dd", "#27zz6d", "#+74b6d", "blue", "#é4b6",
        ] {
            assert_eq!(Accent::new(text), Err(AccentError::Spelled), "{text}");
        }
    }
}
