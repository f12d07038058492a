//! Photos whose camera gives a time that does not fit the run they stand for.
//!
//! The frost fan's baseline ran from 06:35 to 08:10 UTC on 20 January 2026, its work from
//! 09:00 to 15:20 that day, its retest from 06:40 to 08:15 on 22 January. A photo may lie a
//! day from its run, and a day more where the camera knows no time zone.

use super::page::{ids, plain};
use super::table::answers;
use crate::photos::{exif, with_exif};
use crate::ties_between_runs::report_with;

#[test]
fn a_camera_time_at_its_bounds() {
    answers(
        "
        photo  | taken               | zone   => misfit | against | of
        # After the work started, to the second.
        before | 2026:01:20 09:00:00 | +00:00 => - | - | -
        before | 2026:01:20 09:00:01 | +00:00 => capture-after-work-started | 20 January 2026, 09:00 UTC+00:00 | -
        before | 2026:01:21 09:00:00 | -      => - | - | -
        before | 2026:01:21 09:00:01 | -      => capture-after-work-started | 20 January 2026, 09:00 UTC+00:00 | -
        # More than a day before the run.
        before | 2026:01:19 06:35:00 | +00:00 => - | - | -
        before | 2026:01:19 06:34:59 | +00:00 => capture-days-away | 20 January 2026, 06:35 UTC+00:00 | run-baseline
        before | 2026:01:18 06:35:00 | -      => - | - | -
        before | 2026:01:18 06:34:59 | -      => capture-days-away | 20 January 2026, 06:35 UTC+00:00 | run-baseline
        # A day around the work.
        work   | 2026:01:19 09:00:00 | +00:00 => - | - | -
        work   | 2026:01:19 08:59:59 | +00:00 => capture-days-away | 20 January 2026, 09:00 UTC+00:00 | stage-work
        work   | 2026:01:21 15:20:00 | +00:00 => - | - | -
        work   | 2026:01:21 15:20:01 | +00:00 => capture-days-away | 20 January 2026, 15:20 UTC+00:00 | stage-work
        work   | 2026:01:22 15:20:00 | -      => - | - | -
        work   | 2026:01:22 15:20:01 | -      => capture-days-away | 20 January 2026, 15:20 UTC+00:00 | stage-work
        # Before the work ended; after that, but more than a day before the retest.
        after  | 2026:01:20 15:19:59 | +00:00 => capture-before-work-ended | 20 January 2026, 15:20 UTC+00:00 | -
        after  | 2026:01:20 15:20:00 | +00:00 => capture-days-away | 22 January 2026, 06:40 UTC+00:00 | run-retest
        after  | 2026:01:21 06:39:59 | +00:00 => capture-days-away | 22 January 2026, 06:40 UTC+00:00 | run-retest
        after  | 2026:01:21 06:40:00 | +00:00 => - | - | -
        after  | 2026:01:23 08:15:00 | +00:00 => - | - | -
        after  | 2026:01:23 08:15:01 | +00:00 => capture-days-away | 22 January 2026, 08:15 UTC+00:00 | run-retest
        # By the camera's own zone.
        after  | 2026:01:21 08:40:00 | +02:00 => - | - | -
        after  | 2026:01:21 08:39:59 | +02:00 => capture-days-away | 22 January 2026, 06:40 UTC+00:00 | run-retest
        after  | 2026:01:19 15:19:59 | -      => capture-before-work-ended | 20 January 2026, 15:20 UTC+00:00 | -
        after  | 2026:01:20 06:40:00 | -      => - | - | -
        ",
        |row| {
            let file = match row.at("photo") {
                "before" => "photos/filter-before.jpg",
                "work" => "photos/old-line.jpg",
                _ => "photos/filter-after.jpg",
            };
            let zone = Some(row.at("zone")).filter(|zone| *zone != "-");
            let folder = with_exif(file, &exif(row.at("taken"), zone));
            let report = report_with(&folder, "2026-02-01T12:00:00+00:00", &ids());
            let said = report.rule.iter().find(|one| one.contains("<capture-"));
            let said = said.map_or("-: -".to_owned(), |one| plain(one));
            let (misfit, rest) = said.split_once(": ").unwrap();
            let parts: Vec<&str> = rest.split("; ").collect();
            // Which part of the story the photo stands for.
            let of = match misfit {
                "capture-days-away" => parts[2],
                _ => "-",
            };
            let cells = [misfit, parts[0], of].map(str::to_owned);
            move |name: &str| match name {
                "misfit" => cells[0].clone(),
                "against" => cells[1].clone(),
                _ => cells[2].clone(),
            }
        },
    );
}
