//! The one place that asks what time it is.

use chrono::{DateTime, FixedOffset, Local, Utc};

use super::Stop;

/// Now, to the second, in local time; or the moment that `SOURCE_DATE_EPOCH` sets
/// (seconds since 1970 in UTC), for reports that can be made again byte by byte.
pub fn now() -> Result<DateTime<FixedOffset>, Stop> {
    let now = match std::env::var("SOURCE_DATE_EPOCH") {
        Err(_) => Local::now().fixed_offset(),
        Ok(text) => text
            .parse()
            .ok()
            .and_then(|seconds| DateTime::<Utc>::from_timestamp(seconds, 0))
            .map(|moment| moment.fixed_offset())
            .ok_or_else(|| {
                Stop::told(
                    format!("SOURCE_DATE_EPOCH is `{text}`, which is not a time"),
                    "set it to seconds since 1970, or unset it",
                )
            })?,
    };
    Ok(now)
}
