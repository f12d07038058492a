//! The one place that asks what time it is.

use chrono::{DateTime, FixedOffset, Local, NaiveDateTime, TimeZone, Timelike, Utc};

use super::CommandError;
use crate::seals::Clock;

/// The start of the year 10000, which no date on paper can show.
const LAST: i64 = 253_402_300_800;

/// Now, to the second, in local time; or the moment set by `SOURCE_DATE_EPOCH`
/// (seconds since 1970 in UTC), so that the same document can be made again, byte for
/// byte. Also says which of the two it is.
pub fn now() -> Result<(DateTime<FixedOffset>, Clock), CommandError> {
    match std::env::var("SOURCE_DATE_EPOCH") {
        Err(_) => {
            let now = Local::now().fixed_offset();
            // Zero is always in range.
            Ok((now.with_nanosecond(0).unwrap_or(now), Clock::Computer))
        }
        Ok(text) => text
            .parse()
            .ok()
            .filter(|seconds| (0..LAST).contains(seconds))
            .and_then(|seconds| DateTime::<Utc>::from_timestamp(seconds, 0))
            .map(|moment| (moment.fixed_offset(), Clock::Set))
            .ok_or_else(|| {
                CommandError::told(
                    format!("SOURCE_DATE_EPOCH is `{text}`, which is not a time"),
                    "set it to a number of seconds since 1970, or unset it",
                )
            }),
    }
}

/// How far this computer's clock is ahead of UTC when it shows `local`, in minutes: as it is on
/// that day, in summer or in winter.
pub fn zone(local: NaiveDateTime) -> i16 {
    let offset = match std::env::var_os("SOURCE_DATE_EPOCH") {
        Some(_) => None,
        // Twice in the year there are two answers or none: an hour that comes again, or is
        // left out.
        None => match Local.offset_from_local_datetime(&local) {
            chrono::MappedLocalTime::Single(offset) => Some(offset),
            chrono::MappedLocalTime::Ambiguous(first, _) => Some(first),
            chrono::MappedLocalTime::None => Some(*Local::now().offset()),
        },
    };
    let seconds = offset.map_or(0, |offset| offset.local_minus_utc());
    i16::try_from(seconds / 60).unwrap_or(0)
}
