//! A unit by its name, and the ways in which people type one: `m2` for `m²`, `N.m` for
//! `N·m`, `ºC` for `°C`; and what was probably meant where a spelling is not known, or could
//! mean two things.

use super::unit::{Dimension, Unit};
use super::units::UNITS;

impl Unit {
    /// The unit written as `symbol` or in one of its other spellings, with whatever stands
    /// on a keyboard in place of what stands in the table.
    pub fn named(symbol: &str) -> Option<&'static Unit> {
        let exact = UNITS.iter().find(|unit| unit.symbol == symbol);
        exact.or_else(|| {
            let wanted = typed(symbol);
            UNITS
                .iter()
                .find(|unit| unit.names().any(|name| typed(name) == wanted))
        })
    }

    /// Its symbol and its other names, as they stand in the table.
    fn names(&self) -> impl Iterator<Item = &'static str> {
        std::iter::once(self.symbol).chain(self.aliases.iter().copied())
    }
}

/// All symbols of one dimension, for a hint or a list.
pub fn unit_symbols(dimension: Dimension) -> Vec<&'static str> {
    UNITS
        .iter()
        .filter(|unit| unit.dimension == dimension)
        .map(|unit| unit.symbol)
        .collect()
}

/// A name in the characters of any keyboard. Capitals stay: `mW` is not `MW`. Only of the
/// litre are both in use (SI brochure, 9th edition, table 8), and no other unit has an `L`.
fn typed(name: &str) -> String {
    let mut typed = String::new();
    for character in name.chars() {
        match character {
            // U+00BA is what a Spanish keyboard has, U+02DA what some fonts draw.
            '°' | 'º' | '˚' => typed += "deg",
            'Δ' | '∆' => typed += "delta-",
            // Greek letters and the signs that look like them.
            'µ' | 'μ' => typed.push('u'),
            'Ω' | '\u{2126}' => typed += "ohm",
            '¹' => typed.push('1'),
            '²' | '₂' => typed.push('2'),
            '³' => typed.push('3'),
            '⁻' | '−' => typed.push('-'),
            'L' => typed.push('l'),
            // A product may be written with anything between its parts, or with nothing.
            '·' | '⋅' | '•' | '∙' | '*' | '.' | '^' | '_' => {}
            blank if blank.is_whitespace() => {}
            other => typed.push(other),
        }
    }
    typed
}

/// Spellings that are not taken, because they could mean two things or stand for another
/// unit in the SI, and what to write instead.
const UNCLEAR: &[(&str, &[&str])] = &[
    ("C", &["°C", "K"]),
    ("F", &["°F", "Δ°F"]),
    ("mpg", &["mpg (US)", "mpg (imp)"]),
    ("micron", &["µm", "µmHg"]),
    ("microns", &["µm", "µmHg"]),
    ("ton", &["t"]),
];

/// The known units that `written` may have meant: what it is known to be short for, else
/// all those at the least distance.
pub fn near_units(written: &str) -> Vec<&'static str> {
    let wanted = typed(written);
    if let Some((_, meant)) = UNCLEAR.iter().find(|(known, _)| typed(known) == wanted) {
        return meant.to_vec();
    }
    let wanted = wanted.to_lowercase();
    let mut near: Vec<(usize, &'static str)> = UNITS
        .iter()
        .flat_map(|unit| unit.names().map(|name| (name, unit.symbol())))
        .map(|(name, symbol)| {
            let distance = strsim::levenshtein(&typed(name).to_lowercase(), &wanted);
            (distance, symbol)
        })
        // Short symbols are all alike; only a wrong shift key counts there.
        .filter(|(distance, _)| *distance <= wanted.chars().count() / 3)
        .collect();
    near.sort();
    near.dedup_by_key(|(_, symbol)| *symbol);
    let least = near.first().map_or(0, |(distance, _)| *distance);
    near.into_iter()
        .take_while(|(distance, _)| *distance == least)
        .map(|(_, symbol)| symbol)
        .take(3)
        .collect()
}

/// What a pressure is measured against, where its unit was written so as to say it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Against {
    /// The air around it: `psig`, `bar(g)`.
    Air,
    /// A vacuum: `psia`, `bar(a)`.
    Vacuum,
    /// Another place: `psid`.
    Other,
}

/// The unit of pressure in `psig`, `bara`, `kPa(g)`, and what its last letter says. A unit
/// is a unit and no more: the letter belongs elsewhere (NIST SP 811, 7.4).
pub fn pressure_against(written: &str) -> Option<(&'static Unit, Against)> {
    let plain = typed(written).replace(['(', ')'], "");
    let (unit, against) = SUFFIXES.iter().find_map(|(suffix, against)| {
        let start = plain.len().checked_sub(suffix.len())?;
        let (unit, end) = (plain.get(..start)?, plain.get(start..)?);
        let unit = Unit::named(unit).filter(|_| end.eq_ignore_ascii_case(suffix))?;
        Some((unit, *against))
    })?;
    let is_pressure = unit.dimension() == Dimension::Pressure;
    (is_pressure && Unit::named(written).is_none()).then_some((unit, against))
}

/// What is added to a unit of pressure.
const SUFFIXES: [(&str, Against); 5] = [
    ("g", Against::Air),
    ("gauge", Against::Air),
    ("a", Against::Vacuum),
    ("abs", Against::Vacuum),
    ("d", Against::Other),
];

#[cfg(test)]
mod tests {
    use super::*;

    /// Two units that a keyboard writes alike would hide each other.
    #[test]
    fn every_spelling_names_one_unit() {
        let mut seen = std::collections::BTreeMap::new();
        for unit in UNITS {
            for name in unit.names() {
                let other = seen.insert(typed(name), unit.symbol());
                let alone = other.is_none_or(|other| other == unit.symbol());
                assert!(alone, "`{name}` names {unit:?} and {other:?}");
            }
        }
        for (unclear, meant) in UNCLEAR {
            assert!(Unit::named(unclear).is_none(), "`{unclear}` is taken");
            assert!(meant.iter().all(|symbol| Unit::named(symbol).is_some()));
        }
    }

    #[test]
    fn every_name_is_found_and_every_unit_round_trips() {
        for unit in UNITS {
            for name in unit.names() {
                assert_eq!(Unit::named(name).unwrap().symbol, unit.symbol);
            }
            let there_and_back = unit.from_si(unit.to_si(12.5));
            assert!((there_and_back - 12.5).abs() < 1e-9, "{unit:?}");
            let difference = unit.to_si(3.0) - unit.to_si(1.0);
            assert!(
                (unit.difference_to_si(2.0) - difference).abs() <= 1e-9 * difference.abs().max(1.0),
                "{unit:?}"
            );
        }
    }

    /// What lists all dimensions for a reader, or checks them all, goes by `ALL`.
    #[test]
    fn all_dimensions_are_those_of_the_units() {
        let listed: std::collections::BTreeSet<Dimension> = Dimension::ALL.into();
        assert_eq!(listed.len(), Dimension::ALL.len(), "one is listed twice");
        let of_units = UNITS.iter().map(Unit::dimension).collect();
        assert_eq!(listed, of_units);
    }

    #[test]
    fn a_unit_is_known_however_it_is_typed() {
        for (written, symbol) in [
            ("degC", "°C"),
            ("deg C", "°C"),
            ("ºC", "°C"),
            ("˚F", "°F"),
            ("℃", "°C"),
            ("Celsius", "°C"),
            ("delta-degF", "Δ°F"),
            ("um", "µm"),
            ("μm", "µm"),
            ("mm2", "mm²"),
            ("m^2", "m²"),
            ("m3/h", "m³/h"),
            ("l/min", "L/min"),
            ("L / min", "L/min"),
            ("ml", "mL"),
            ("mg/l", "mg/L"),
            ("l/100km", "L/100 km"),
            ("Nm", "N·m"),
            ("N.m", "N·m"),
            ("cN*m", "cN·m"),
            ("ft-lb", "lbf·ft"),
            ("kVA", "kV·A"),
            ("uF", "µF"),
            ("ohm", "Ω"),
            ("\u{2126}", "Ω"),
            ("Mohm", "MΩ"),
            ("inH2O", "inH₂O"),
            ("m-1", "m⁻¹"),
            ("m/s2", "m/s²"),
            ("uS/cm", "µS/cm"),
            ("% RH", "%RH"),
            ("dB (A)", "dB(A)"),
            ("m.c.a.", "mH₂O"),
            ("kg/cm2", "kgf/cm²"),
            ("mpg_us", "mpg (US)"),
            ("g/yr", "g/a"),
            ("°C/min", "K/min"),
            ("mil", "thou"),
        ] {
            let found = Unit::named(written).map(Unit::symbol);
            assert_eq!(found, Some(symbol), "{written}");
        }
    }

    #[test]
    fn a_typing_mistake_finds_its_unit() {
        assert_eq!(near_units("kpa"), ["kPa"]);
        assert!(near_units("PSI").contains(&"psi"));
        assert!(near_units("furlongs").is_empty());
    }

    #[test]
    fn what_could_mean_two_things_is_asked_back() {
        assert_eq!(near_units("C"), ["°C", "K"]);
        assert_eq!(near_units("mpg"), ["mpg (US)", "mpg (imp)"]);
        assert_eq!(near_units("microns"), ["µm", "µmHg"]);
    }

    #[test]
    fn a_letter_on_a_unit_of_pressure_is_understood() {
        let found = |written| pressure_against(written).map(|(unit, of)| (unit.symbol(), of));
        assert_eq!(found("psig"), Some(("psi", Against::Air)));
        assert_eq!(found("bara"), Some(("bar", Against::Vacuum)));
        assert_eq!(found("kPa (abs)"), Some(("kPa", Against::Vacuum)));
        assert_eq!(found("kPa(g)"), Some(("kPa", Against::Air)));
        assert_eq!(found("psid"), Some(("psi", Against::Other)));
        for other in ["mH₂O", "Vg", "bar", "Pa", "a", ""] {
            assert_eq!(found(other), None, "{other}");
        }
    }
}
