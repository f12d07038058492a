//! The smoke keys of a reading → [`Smoke`].

use super::common_checks;
use super::problem::Problems;
use super::reading_context::Context;
use super::shapes::ReadingTable;
use super::toml_document::Document;
use crate::job::{Appearance, Smoke, SmokeLimits};

/// The greatest spread of three accelerations in a row that still counts as one
/// reading, in percent of opacity (SAE J1667, as restated in 92 Ill. Adm. Code
/// 460.320: within 5 % opacity of each other; exactly 5 counts as within).
const SNAP_SPREAD: f64 = 5.0;

/// The smoke reading in `table`.
pub fn smoke(
    context: &Context<'_>,
    limits: &SmokeLimits,
    problems: &mut Problems,
) -> Option<Smoke> {
    let t = context.table;
    check_colour(context, t, problems);
    check_limits(context, limits, t, problems);
    check_opacity(context, t, problems);
    let nothing = t.opacity_percent.is_none()
        && t.snaps_percent.is_none()
        && t.colour.is_none()
        && t.clear_seconds.is_none()
        && t.words.is_none();
    if nothing {
        context.not_filled_in(
            &[],
            "this smoke reading is empty",
            "add `colour`, `clear_seconds`, `opacity_percent` or `words`",
            problems,
        );
    }
    let in_unit = |path: &[&str], value, symbol| {
        let whole = [&["reading", context.measure.id.as_str()], path].concat();
        common_checks::in_unit(context.document, &whole, value, symbol)
    };
    let snaps = t.snaps_percent.iter().flatten().enumerate();
    let snaps = snaps.map(|(index, percent)| {
        let at = index.to_string();
        in_unit(&["snaps_percent", &at], Some(*percent), "%")
    });
    let single = in_unit(&["opacity_percent"], t.opacity_percent, "%");
    Some(Smoke {
        opacity: single.into_iter().chain(snaps.flatten()).collect(),
        path: in_unit(&["path_length_mm"], t.path_length_mm, "mm"),
        appearance: t.colour.as_ref().map(|colour| Appearance {
            colour: colour.clone(),
            ringelmann: in_unit(&["ringelmann"], t.ringelmann, "1"),
        }),
        clear: in_unit(&["clear_seconds"], t.clear_seconds, "s"),
        words: t.words.clone(),
    })
}

/// The Ringelmann chart is grey (BoM IC 8333): it does not apply to white or blue smoke.
fn check_colour(context: &Context<'_>, t: &ReadingTable, problems: &mut Problems) {
    let colour = t.colour.as_deref().unwrap_or("").to_lowercase();
    let greyish = ["grey", "gray", "black"]
        .iter()
        .any(|word| colour.contains(word));
    if t.ringelmann.is_some() && !greyish {
        context.problem(
            &["ringelmann"],
            "a Ringelmann number is for grey or black smoke",
            "write `colour = \"grey\"` or `\"black\"`; describe white or blue smoke with \
             `opacity_percent` or `words`",
            problems,
        );
    }
}

/// What has a limit has a reading.
fn check_limits(
    context: &Context<'_>,
    limits: &SmokeLimits,
    t: &ReadingTable,
    problems: &mut Problems,
) {
    let has_opacity = t.opacity_percent.is_some() || t.snaps_percent.is_some();
    let needs_opacity = limits.max_opacity.is_some() || limits.max_absorption.is_some();
    for (key, needed, given) in [
        ("opacity_percent", needs_opacity, has_opacity),
        (
            "path_length_mm",
            limits.max_absorption.is_some() || limits.path.is_some(),
            t.path_length_mm.is_some(),
        ),
        (
            "clear_seconds",
            limits.max_clear.is_some(),
            t.clear_seconds.is_some(),
        ),
    ] {
        if needed && !given {
            let id = &context.measure.id;
            context.not_filled_in(
                &[],
                format!("the limit of `{id}` needs `{key}`"),
                format!("add `{key} = …`"),
                problems,
            );
        }
    }
}

fn check_opacity(context: &Context<'_>, t: &ReadingTable, problems: &mut Problems) {
    let key = if t.snaps_percent.is_some() {
        "snaps_percent"
    } else {
        "opacity_percent"
    };
    let has_opacity = t.opacity_percent.is_some() || t.snaps_percent.is_some();
    if t.opacity_percent.is_some() && t.snaps_percent.is_some() {
        context.problem(
            &["opacity_percent"],
            "both `opacity_percent` and `snaps_percent` are given",
            "keep one of the two",
            problems,
        );
    }
    if has_opacity && t.instrument.is_none() {
        context.problem(
            &[key],
            "opacity needs the instrument that measured it",
            "add `instrument = \"…\"`, or describe the smoke in `words`",
            problems,
        );
    }
    let values = || {
        t.opacity_percent
            .iter()
            .chain(t.snaps_percent.iter().flatten())
            .copied()
    };
    let highest = values().fold(f64::NEG_INFINITY, f64::max);
    let lowest = values().fold(f64::INFINITY, f64::min);
    // Decimal figures: 26.9 − 22.0 must not exceed 5 by its last bit.
    if t.snaps_percent.is_some() && highest - lowest > SNAP_SPREAD + 1e-9 {
        context.problem(
            &[key],
            "the three accelerations differ by more than 5 % opacity",
            "go on until three in a row are within 5 %, and write those",
            problems,
        );
    }
    if t.path_length_mm.is_some() && highest >= 99.95 {
        context.problem(
            &[key],
            "at this opacity no light is left, so it cannot be converted to another path or to k",
            "delete `path_length_mm`, or measure over a shorter path",
            problems,
        );
    }
}

/// Opacity grows with the length of the light path: readings over two paths can be held
/// against one limit only if the limit says for which path it holds.
pub fn same_path(
    retest: &Document,
    id: &str,
    limits: &SmokeLimits,
    after: &ReadingTable,
    before: &ReadingTable,
    problems: &mut Problems,
) {
    let has_opacity =
        |table: &ReadingTable| table.opacity_percent.is_some() || table.snaps_percent.is_some();
    if !has_opacity(after) || !has_opacity(before) {
        return;
    }
    match (after.path_length_mm, before.path_length_mm) {
        (Some(after), Some(before))
            if after != before && limits.max_opacity.is_some() && limits.path.is_none() =>
        {
            retest.problem(
                &["reading", id, "path_length_mm"],
                format!(
                    "the light path is {after} mm here and {before} mm in the baseline; the same \
                     smoke is more opaque over a longer path"
                ),
                format!(
                    "state in limits.toml for which path the limit of `{id}` holds: \
                     `path_length_mm = …`"
                ),
                problems,
            );
        }
        (None, Some(before)) => retest.problem(
            &["reading", id],
            format!("the baseline of `{id}` was measured over a path of {before} mm, but the path length is missing here"),
            "add `path_length_mm = …` here: the same smoke is more opaque over a longer path",
            problems,
        ),
        (Some(_), None) => retest.problem(
            &["reading", id, "path_length_mm"],
            format!("the baseline of `{id}` has no `path_length_mm`"),
            "add it to baseline.toml, or delete it here",
            problems,
        ),
        _ => {}
    }
}
