//! `retestify list`: every job below some folders, and how far each has come.

use std::fmt;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use chrono::{DateTime, FixedOffset};
use serde::Serialize;

use super::args::ListArgs;
use super::{CommandError, clock, terminal};
use crate::files::{Folder, ReadError, folders_with};
use crate::intake::Glance;
use crate::job::{JobFile, Stage};
use crate::seals::Chain;

/// How deep below a folder jobs are looked for, and how many folders are looked into.
const DEEPEST: usize = 6;
const MOST: usize = 100_000;

/// How far a job has come.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
enum State {
    /// Nothing is sealed yet.
    Planned,
    /// The baseline is sealed, and the work has not begun.
    BaselineSealed,
    /// The work has begun.
    WorkBegun,
    /// The work is done.
    RetestDue,
    /// The retest is sealed, and a follow-up was agreed.
    FollowUpDue,
    /// The retest is sealed.
    Closed,
}

impl State {
    fn of(seen: &Glance, chain: &Chain, now: DateTime<FixedOffset>) -> Self {
        let has_come = |moment: Option<DateTime<FixedOffset>>| moment.is_some_and(|at| at <= now);
        let sealed = |stage: Stage| chain.latest(stage).is_some();
        if sealed(Stage::Retest) {
            match seen.follow_up {
                Some(_) => Self::FollowUpDue,
                None => Self::Closed,
            }
        } else if has_come(seen.work_finished) {
            Self::RetestDue
        } else if has_come(seen.work_started) {
            Self::WorkBegun
        } else if sealed(Stage::Baseline) {
            Self::BaselineSealed
        } else {
            Self::Planned
        }
    }
}

impl fmt::Display for State {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Planned => "planned",
            Self::BaselineSealed => "baseline sealed",
            Self::WorkBegun => "work begun",
            Self::RetestDue => "retest due",
            Self::FollowUpDue => "follow-up",
            Self::Closed => "closed",
        })
    }
}

/// One job of the list.
#[derive(Debug, Serialize)]
struct Row {
    folder: PathBuf,
    job: Option<String>,
    machine: Option<String>,
    customer: Option<String>,
    state: State,
    /// The day from which its age counts.
    since: Option<String>,
    /// When the customer is to come back.
    #[serde(skip_serializing_if = "Option::is_none")]
    follow_up: Option<String>,
    /// Whether the baseline was sealed before the work.
    sealed_before_work: bool,
}

/// Lists the jobs, the oldest first.
pub fn run(args: &ListArgs) -> Result<ExitCode, CommandError> {
    let (now, _) = clock::now()?;
    let mut rows = Vec::new();
    for folder in &args.folders {
        let found = folders_with(folder, JobFile::Job.name(), DEEPEST, MOST).map_err(|error| {
            CommandError::told(
                match error {
                    ReadError::Missing => format!("there is no folder {}", folder.display()),
                    other => format!("{} cannot be searched: {other}", folder.display()),
                },
                "name a folder that has jobs in it, or below it",
            )
        })?;
        rows.extend(found.iter().filter_map(|path| row(path, now)));
    }
    rows.sort_by_key(|row| (row.since.is_none(), row.since.clone(), row.folder.clone()));
    rows.dedup_by_key(|row| row.folder.clone());
    let text = if args.json {
        serde_json::to_string_pretty(&rows).unwrap_or_default() + "\n"
    } else if rows.is_empty() {
        "There is no job there.\n".to_owned()
    } else {
        terminal::list(rows.iter().map(cells))
    };
    // A program that stops reading early, such as `head`, is not an error.
    let _ = anstream::stdout().write_all(text.as_bytes());
    Ok(ExitCode::SUCCESS)
}

fn row(path: &Path, now: DateTime<FixedOffset>) -> Option<Row> {
    let folder = Folder::open(path).ok()?;
    let seen = Glance::at(&folder);
    let chain = Chain::read(&folder).unwrap_or_default();
    let first = chain.first(Stage::Baseline).map(|link| link.seal.sealed);
    let before_work =
        first.is_some_and(|first| seen.work_started.is_none_or(|started| first <= started));
    let since = seen
        .received
        .or(seen.baseline.map(|moment| moment.date_naive()));
    Some(Row {
        folder: path.to_path_buf(),
        state: State::of(&seen, &chain, now),
        since: since.map(|day| day.to_string()),
        sealed_before_work: before_work,
        job: seen.number,
        machine: seen.machine,
        customer: seen.customer,
        follow_up: seen.follow_up.map(|day| day.to_string()),
    })
}

fn cells(row: &Row) -> [String; 5] {
    let text = |text: &Option<String>| text.clone().unwrap_or_else(|| "–".to_owned());
    let state = match (row.state, &row.follow_up) {
        (State::FollowUpDue, Some(day)) => format!("follow-up due on {day}"),
        (state, _) => state.to_string(),
    };
    [
        text(&row.since),
        text(&row.job),
        text(&row.machine),
        state,
        row.folder.display().to_string(),
    ]
}
