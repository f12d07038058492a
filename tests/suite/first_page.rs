//! What a customer is told, in which order, and what is left off; and a baseline before
//! there is a retest.

use chrono::{DateTime, FixedOffset, NaiveDate};
use retestify::job::{Bounds, Contribution, DefectOutcome, Job, Kind};
use retestify::judge::{
    Alone, Attribution, Caveat, FollowUp, RunFigure, advice, attribution, baseline, caveats, done,
    follow_up, is_issued_before_retest, judge, left, not_needed,
};
use retestify::quantity::Quantity;

use crate::folder::Folder;

/// The frost fan: baseline on 20, retest on 22 January 2026, two things done.
fn frost_fan() -> Job {
    Folder::copy_of("frost-fan").read_job().job
}

fn moment(text: &str) -> DateTime<FixedOffset> {
    DateTime::parse_from_rfc3339(text).unwrap()
}

fn day(year: i32, month: u32, day: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(year, month, day).unwrap()
}

#[test]
fn a_report_is_dated_before_its_retest_or_not() {
    let job = frost_fan();
    let before = |text: &str| is_issued_before_retest(&job, moment(text));
    assert!(before("2026-01-22T06:39:59Z"));
    assert!(!before("2026-01-22T06:40:00Z"));
}

#[test]
fn a_follow_up_is_due_until_its_day_has_passed() {
    let mut job = frost_fan();
    let on = |job: &Job, issued| follow_up(job, issued);
    let due = on(&job, day(2026, 4, 20));
    assert!(matches!(due, Some(FollowUp::Due(on)) if on == day(2026, 4, 20)));
    let passed = on(&job, day(2026, 4, 21));
    assert!(matches!(passed, Some(FollowUp::Passed(on)) if on == day(2026, 4, 20)));
    job.work.follow_up = None;
    assert!(on(&job, day(2026, 4, 21)).is_none());
}

#[test]
fn the_change_is_credited_to_one_thing_or_to_all_together() {
    let mut job = frost_fan();
    assert!(matches!(attribution(&job), Attribution::Several(2)));
    job.work.interventions.truncate(1);
    let what = job.work.interventions[0].what.clone();
    assert!(matches!(attribution(&job), Attribution::One(one) if one == what));
}

/// What was left stands apart from advice, what was repaired after what was done; of a list
/// that is too long the last line says how many more there are.
#[test]
fn lists_for_the_customer_in_their_order() {
    let mut job = frost_fan();
    let found = |what: &str, outcome| retestify::job::FurtherDefect {
        what: what.to_owned(),
        outcome,
        note: None,
    };
    job.work.also_found = vec![
        found("belt", DefectOutcome::Repaired),
        found("hose", DefectOutcome::Left),
    ];
    let told: Vec<&str> = left(&job).items.iter().map(|it| it.what.as_str()).collect();
    assert_eq!(told, ["hose"]);
    assert_eq!(advice(&job).items.len(), 2);
    let told: Vec<&str> = done(&job)
        .items
        .into_iter()
        .map(|one| match one {
            Contribution::Intervention(_) => "done",
            Contribution::AlsoRepaired(what) => what,
        })
        .collect();
    assert_eq!(told, ["done", "done", "belt"]);
    job.work.watch = (0..5).map(|n| n.to_string()).collect();
    assert_eq!((advice(&job).items.len(), advice(&job).more), (5, None));
    let item = job.work.not_needed[0].clone();
    job.work.not_needed = vec![item.clone(); 4];
    assert_eq!(
        (not_needed(&job).items.len(), not_needed(&job).more),
        (4, None)
    );
    job.work.not_needed = vec![item; 5];
    assert_eq!(
        (not_needed(&job).items.len(), not_needed(&job).more),
        (3, Some(2))
    );
}

/// The caveats of a job, each by a word.
fn told(job: &Job, issued: &str, seals: &[&str]) -> (Vec<String>, Option<usize>) {
    let judgement = judge(job);
    let all = caveats(job, &judgement, moment(issued), seals);
    let words = all.items.into_iter().map(|caveat| match caveat {
        Caveat::IssuedBeforeRetest => "issued".to_owned(),
        Caveat::Seals(seal) => (*seal).to_owned(),
        Caveat::Reservations(kind) => format!("{} reservation", kind.len()),
        Caveat::Idle(names) => format!("idle {}", names.join(", ")),
        Caveat::NotTaken { measure, why, .. } => format!("{measure}: {why}"),
        Caveat::PhotoTime(_) => "photo".to_owned(),
        Caveat::PhotoTimes(several) => format!("{several} photos"),
        Caveat::SeveralDone(several) => format!("{several} done"),
        Caveat::Holds(_) => "holds".to_owned(),
    });
    (words.collect(), all.more)
}

#[test]
fn the_weightiest_caveat_comes_first() {
    let mut job = frost_fan();
    for measure in &mut job.plan.limits.measures {
        measure.test = None;
        measure.cannot_tell.clear();
    }
    // One reservation: the rule leaves uncertainty out.
    job.plan.limits.rule = retestify::job::DecisionRule::Simple;
    let reserved = judge(&job).reservations.len();
    assert_eq!(reserved, 1);
    let late = "2026-02-01T00:00:00Z";
    let (words, more) = told(&job, late, &[]);
    let three = ["1 reservation", "2 done", "holds"]
        .map(String::from)
        .to_vec();
    assert_eq!((words, more), (three, None));
    let taken = job.baseline.photos[0].taken;
    let odd = taken.map(|taken| retestify::job::CaptureTime {
        local: taken.local - chrono::TimeDelta::days(400),
        ..taken
    });
    let odd = odd.or_else(|| {
        Some(retestify::job::CaptureTime {
            local: day(2020, 1, 1).and_hms_opt(0, 0, 0)?,
            offset: None,
        })
    });
    job.baseline.photos[0].taken = odd;
    // Three have room; the others are counted.
    let (words, more) = told(&job, "2026-01-01T00:00:00Z", &["seal"]);
    let three = ["issued", "seal", "photo"].map(String::from).to_vec();
    assert_eq!((words, more), (three, Some(3)));
    job.retest.photos[0].taken = odd;
    let (words, more) = told(&job, late, &[]);
    let three = ["2 photos", "1 reservation", "2 done"]
        .map(String::from)
        .to_vec();
    assert_eq!((words, more), (three, Some(1)));
    let (words, more) = told(&job, "2026-01-01T00:00:00Z", &["seal", "chain"]);
    assert_eq!((words.len(), more), (3, Some(4)));
    job.work.interventions.truncate(1);
    let (words, _) = told(&job, late, &[]);
    assert_eq!(words, ["2 photos", "1 reservation", "holds"]);
}

/// What could not fail, and what was not read, is said before how a figure was worked out; and
/// six reservations of one kind take one line.
#[test]
fn no_number_of_small_things_hides_a_large_one() {
    let mut job = frost_fan();
    job.work.interventions.truncate(1);
    for measure in &mut job.plan.limits.measures {
        measure.test = None;
        measure.cannot_tell.clear();
    }
    let late = "2026-02-01T00:00:00Z";
    let window = |job: &mut Job, id: &str, width: f64| {
        let all = job.plan.limits.conditions.iter_mut();
        let condition = all.into_iter().find(|one| one.id == id).unwrap();
        if let retestify::job::ConditionKind::Value { window, .. } = &mut condition.kind {
            *window = Quantity::new(width, window.unit()).unwrap();
        }
        condition.name.clone()
    };
    let name = window(&mut job, "ambient", 49.0);
    assert!(!told(&job, late, &[]).0.contains(&format!("idle {name}")));
    window(&mut job, "ambient", 50.0);
    assert!(told(&job, late, &[]).0.contains(&format!("idle {name}")));
    // Twelve volts and some, and a window that is ten times as wide.
    let name = window(&mut job, "battery", 120.0);
    assert!(!told(&job, late, &[]).0.join(";").contains(&name));
    window(&mut job, "battery", 130.0);
    assert!(told(&job, late, &[]).0.join(";").contains(&name));
    // A measure that is not required: its verdict stays, and page 1 says it.
    let reading = job.retest.readings.get_mut("suction").unwrap();
    reading.observation = retestify::job::Observation::NotTaken("The gauge broke".to_owned());
    let (words, _) = told(&job, late, &[]);
    assert!(
        words.iter().any(|word| word.ends_with(": The gauge broke")),
        "{words:?}"
    );
    // Six conditions that are not known, of one kind.
    let one = job.plan.limits.conditions[0].clone();
    for number in 0..6 {
        let mut other = one.clone();
        other.id = format!("idle-{number}");
        other.required = false;
        job.plan.limits.conditions.push(other);
    }
    let (words, more) = told(&job, late, &[]);
    assert!(words.contains(&"6 reservation".to_owned()), "{words:?}");
    assert_eq!(more, Some(1), "how far the result holds weighs less");
}

/// By hand, from limits.toml and baseline.toml of the frost fan.
#[test]
fn a_baseline_stands_at_its_limits_before_any_retest() {
    let job = frost_fan();
    let found = baseline(&job.plan, &job.baseline);
    let rows: Vec<(&str, bool, &str, String)> = found
        .rows
        .iter()
        .map(|row| {
            let kind = match &row.figure {
                RunFigure::Alone(Alone::Value(_)) => "value",
                RunFigure::ValueAt(..) => "cylinders",
                RunFigure::Alone(Alone::Passes(_)) => "passes",
                RunFigure::PassesAt(..) => "cylinder-passes",
                RunFigure::Alone(Alone::Exact(..)) => "exact",
                RunFigure::ExactAt(..) => "exact-at",
                RunFigure::Alone(Alone::Rate(..)) => "rate",
                RunFigure::Alone(Alone::List(..)) => "list",
                RunFigure::Alone(Alone::Smoke(..)) => "smoke",
            };
            let outcome = format!("{:?}", row.outcome);
            (row.measure.as_str(), row.required, kind, outcome)
        })
        .collect();
    let wanted = [
        ("crank-time", true, "value", "Fail"),
        ("contribution", true, "cylinders", "Fail"),
        ("first-try", true, "passes", "Fail"),
        ("smoke", false, "smoke", "Fail"),
        ("suction", false, "value", "Fail"),
        ("crank-voltage", false, "value", "Pass"),
    ];
    let wanted =
        wanted.map(|(id, required, kind, outcome)| (id, required, kind, outcome.to_owned()));
    assert_eq!(rows, wanted);
}

/// Intake lets no such run pass; should one come by another way, the measure counts as not
/// read, and the verdict stays open.
#[test]
fn what_cannot_be_compared_is_not_passed_over() {
    let id = "crank-time";
    let open = |spoil: &dyn Fn(&mut Job)| {
        let mut job = frost_fan();
        spoil(&mut job);
        let judgement = judge(&job);
        assert_eq!(judgement.measures.len(), job.plan.limits.measures.len());
        format!(
            "{:?}, {:?}",
            judgement.verdict, judgement.measures[0].outcome
        )
    };
    let undecided = "Undecided, Inconclusive";
    assert_eq!(open(&|_| {}), "Verified, Pass");
    let lacks = |job: &mut Job| drop(job.retest.readings.remove(id));
    assert_eq!(open(&lacks), undecided);
    let lacked = |job: &mut Job| drop(job.baseline.readings.remove(id));
    assert_eq!(open(&lacked), undecided);
    let other_kind = |job: &mut Job| {
        let other = job.retest.readings["first-try"].clone();
        job.retest.readings.insert(id.to_owned(), other);
    };
    assert_eq!(open(&other_kind), undecided);
}

/// Used on 20 and 22 January: overdue from the day after it was due, calibrated too late
/// from the day after its first use.
#[test]
fn an_instrument_is_judged_by_the_days_of_its_use() {
    let state = |due: u32, calibrated: u32| {
        let mut job = frost_fan();
        let probe = job
            .plan
            .instruments
            .iter_mut()
            .find(|one| one.id == "probe")
            .unwrap();
        probe.due = Some(day(2026, 1, due));
        probe.calibrated = Some(day(2026, 1, calibrated));
        let judgement = judge(&job);
        let used = judgement
            .instruments
            .iter()
            .find(|one| one.id == "probe")
            .unwrap();
        let ambient = &judgement.conditions[0];
        assert_eq!(ambient.read_with.len(), 1, "once, though used in both runs");
        assert_eq!(ambient.read_with[0].overdue, used.overdue.is_some());
        (used.overdue, used.calibrated_later)
    };
    assert_eq!(state(22, 20), (None, false));
    assert_eq!(state(21, 21), (Some(day(2026, 1, 21)), true));
    assert_eq!(state(19, 23), (Some(day(2026, 1, 19)), true));
    let mut job = frost_fan();
    let mut idle = job.plan.instruments[0].clone();
    idle.id = "idle".to_owned();
    job.plan.instruments.push(idle);
    assert!(judge(&job).instruments.iter().all(|one| one.id != "idle"));
}

/// By hand, from the readings of the frost fan: suction 31.5 and then 11.0 kPa; cranking
/// voltage 9.94 V and then more, which is never negative.
#[test]
fn a_limit_is_idle_at_a_hundred_times_or_a_hundredth() {
    for (id, min, max, idle) in [
        ("suction", None, Some(3149.0), false),
        ("suction", None, Some(3150.0), true),
        ("suction", Some(0.11), None, true),
        ("suction", Some(0.12), None, false),
        ("suction", Some(0.0), None, false),
        ("suction", Some(-3149.0), None, false),
        ("suction", Some(-3150.0), None, true),
        ("suction", Some(-3150.0), Some(20.0), false),
        ("suction", Some(0.11), Some(3150.0), true),
        ("crank-voltage", Some(0.0), None, true),
        ("crank-voltage", Some(0.0), Some(20.0), false),
        ("contribution", Some(-0.5), None, false),
    ] {
        let mut job = frost_fan();
        let all = job.plan.limits.measures.iter_mut();
        let measure = all.into_iter().find(|one| one.id == id).unwrap();
        let scale = match &mut measure.kind {
            Kind::Value(scale) => scale,
            Kind::ValueAt(scales) => &mut scales.common,
            _ => panic!("{id} has no scale"),
        };
        let end = |value: Option<f64>| value.map(|value| Quantity::new(value, scale.unit).unwrap());
        scale.bounds = Bounds::new(end(min), end(max));
        let name = format!("idle {}", measure.name);
        let (words, _) = told(&job, "2026-02-01T00:00:00Z", &[]);
        assert_eq!(
            words.contains(&name),
            idle,
            "{id} {min:?} {max:?}: {words:?}"
        );
    }
}
