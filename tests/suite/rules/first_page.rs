//! The customer's page: which sentence heads it, which figures stand on it and in which
//! order, and what a hurried reader must not miss.

use retestify::view::Report;

use super::page::{first_page, line, plain};
use super::small_job::{SmallJob, bar};
use super::table::{Row, answers};

/// Holds the first page of the job that `job` makes of each row.
#[track_caller]
fn hold(text: &'static str, job: impl Fn(&Row<'_>) -> SmallJob) {
    answers(text, |row| {
        let report = job(row).pages();
        move |name: &str| first_page(&report, name)
    });
}

#[test]
fn the_headline_and_what_would_settle_it() {
    hold(
        "
        required | ambient | => mark | headline | lead | next
        pass           | same    | => mark-verified     | headline-verified: 1             | lead-matched |
        pass same      | same    | => mark-verified     | headline-verified: 2             | lead-matched |
        pass narrow    | same    | => mark-verified     | headline-verified-conditional: 2      | lead-matched |
        pass           | harder  | => mark-verified     | headline-verified: 1             | lead-harder: condition-figures: 10 °C; 20 °C; Condition ambient |
        outside        | same    | => mark-not-verified | headline-not-verified: 1         | reason-fails: Measure outside / lead-matched |
        outside near   | same    | => mark-not-verified | headline-not-verified: 1         | reason-fails: Measure outside / reason-inconclusive: Measure near / lead-matched |
        absent         | same    | => mark-not-verified | headline-not-improved: 1         | reason-improvement-absent: Measure absent / lead-matched |
        worse-asked    | same    | => mark-not-verified | headline-not-improved: 1         | reason-improvement-absent-worse: Measure worse-asked / lead-matched |
        absent outside | same    | => mark-not-verified | headline-not-shown: 2            | reason-fails: Measure outside / reason-improvement-absent: Measure absent / lead-matched |
        outside        | easier  | => mark-not-verified | headline-not-verified: 1         | reason-fails: Measure outside / reason-condition-easier: condition-figures: 30 °C; 20 °C; Condition ambient |
        near           | same    | => mark-undecided    | headline-undecided               | reason-inconclusive: Measure near / lead-matched | settle-instrument
        unseen         | same    | => mark-undecided    | headline-undecided               | reason-no-improvement-shown: Measure unseen / lead-matched | settle-instrument
        worse          | same    | => mark-undecided    | headline-undecided-worse         | reason-got-worse: Measure worse / lead-matched | settle-worse
        worse near     | same    | => mark-undecided    | headline-undecided-worse         | reason-inconclusive: Measure near / reason-got-worse: Measure worse / lead-matched | settle-worse
        # What was not read is not settled by a better instrument.
        not-taken      | same    | => mark-undecided    | headline-undecided               | reason-not-taken: Measure not-taken; The gauge broke / lead-matched |
        not-taken-before | same  | => mark-verified     | headline-verified: 1             | lead-matched |
                       | same    | => mark-undecided    | headline-undecided               | reason-nothing-required / lead-matched |
        # The conditions come before all else that leaves it open.
        pass           | easier  | => mark-undecided    | headline-undecided-conditions    | reason-condition-easier: condition-figures: 30 °C; 20 °C; Condition ambient | settle-conditions
        worse          | easier  | => mark-undecided    | headline-undecided-conditions    | reason-got-worse: Measure worse / reason-condition-easier: condition-figures: 30 °C; 20 °C; Condition ambient | settle-conditions
        near           | unknown | => mark-undecided    | headline-undecided-unknown       | reason-inconclusive: Measure near / reason-condition-unknown: Condition ambient | settle-conditions
        not-taken      | unknown | => mark-undecided    | headline-undecided-unknown       | reason-not-taken: Measure not-taken; The gauge broke / reason-condition-unknown: Condition ambient |
        ",
        |row| {
            let ambient = match row.at("ambient") {
                "same" => "value = 20, unit = \"°C\"",
                "harder" => "value = 10, unit = \"°C\"",
                "easier" => "value = 30, unit = \"°C\"",
                _ => "",
            };
            let keys = "required = true\nunit = \"°C\"\nwindow = 3\nharder = \"lower\"";
            let before = "value = 20, unit = \"°C\"";
            let mut job = SmallJob::new().condition("ambient", keys, before, ambient);
            for found in row.at("required").split_whitespace() {
                job = job.found(found, found, true);
            }
            job.found("same", "beside", false)
        },
    );
}

/// Conditions that are alike are worth a sentence where one was required, or where one was
/// harder.
#[test]
fn conditions_that_nobody_required() {
    hold(
        "
        after => lead
        20    =>
        10    => lead-harder: condition-figures: 10 °C; 20 °C; Condition ambient
        30    =>
        ",
        |row| {
            let celsius = |value: &str| format!("value = {value}, unit = \"°C\"");
            SmallJob::new()
                .without_conditions()
                .found("pass", "m", true)
                .condition(
                    "ambient",
                    "unit = \"°C\"\nwindow = 3\nharder = \"lower\"",
                    &celsius("20"),
                    &celsius(row.at("after")),
                )
        },
    );
}

#[test]
fn a_warm_machine_is_no_fair_comparison() {
    let celsius = |value| format!("value = {value}, unit = \"°C\"");
    let soak = "value = 12, unit = \"h\"";
    let report = SmallJob::new()
        .condition("soak", "unit = \"h\"\nwindow = 3", soak, soak)
        .condition(
            "ambient",
            "unit = \"°C\"\nwindow = 3",
            &celsius(10),
            &celsius(10),
        )
        .condition(
            "coolant",
            "required = true\nunit = \"°C\"\nwindow = 3",
            &celsius(40),
            &celsius(40),
        )
        .found("pass", "m", true)
        .pages();
    assert_eq!(
        first_page(&report, "headline"),
        "headline-undecided-conditions"
    );
    assert_eq!(
        first_page(&report, "lead"),
        "reason-not-cold: Condition coolant / lead-matched"
    );
    assert_eq!(first_page(&report, "next"), "settle-conditions");
}

/// Measures as `id:keys:found`, with `r` for required and `f` for the front page.
fn listed(row: &Row<'_>) -> SmallJob {
    let mut job = SmallJob::new();
    for measure in row.at("measures").split_whitespace() {
        let [id, keys, found] = measure.split(':').collect::<Vec<_>>()[..] else {
            panic!("{measure}");
        };
        let keys = match keys {
            "r" => "required = true",
            "f" => "front_page = true",
            "rf" => "required = true\nfront_page = true",
            _ => "",
        };
        job = job.found_with(found, id, keys);
    }
    job
}

#[test]
fn the_figures_of_the_page() {
    hold(
        "
        measures                       => figures | results | more | first figure
        # With none marked, the required ones.
        a:r:pass b:r:pass c::pass      => Measure a / Measure b | outcome-pass / outcome-pass | | Measure a
        # Required ones before those that are only marked; the first sentence has what is marked.
        a:r:pass b:f:pass              => Measure a / Measure b | outcome-pass / outcome-pass | | Measure b
        a:r:pass b:rf:pass             => Measure b / Measure a | outcome-pass / outcome-pass | | Measure b
        a:r:pass b:f:pass c:r:narrow   => Measure c / Measure a / Measure b | outcome-conditional-pass / outcome-pass / outcome-pass | | Measure b
        # What is required and does not simply pass stands first, the worst at the top.
        a:r:pass b:r:narrow c:r:near d:r:outside => Measure d / Measure c / Measure b / Measure a | outcome-fail / outcome-inconclusive / outcome-conditional-pass / outcome-pass | | Measure d
        a:r:pass b:r:not-taken         => Measure b / Measure a | not-taken / outcome-pass | | Measure a
        # What is not required waits its turn, however bad.
        a:rf:pass b:f:outside          => Measure a / Measure b | outcome-pass / outcome-fail | | Measure a
        b:f:outside a:rf:pass          => Measure a / Measure b | outcome-pass / outcome-fail | | Measure b
        # The first sentence has what fails, or what got better, or the first.
        a:r:same b:r:pass              => Measure a / Measure b | outcome-pass / outcome-pass | | Measure b
        a:r:same b:r:same              => Measure a / Measure b | outcome-pass / outcome-pass | | Measure a
        a:r:pass b:r:outside           => Measure b / Measure a | outcome-fail / outcome-pass | | Measure b
        a:r:outside b:r:absent         => Measure a / Measure b | outcome-fail / outcome-fail | | Measure a
        a:r:worse-within b:f:same      => Measure a / Measure b | outcome-pass / outcome-pass | | Measure b
        # Eight have room.
        a:r:pass b:r:pass c:r:pass d:r:pass e:r:pass f:r:pass g:r:pass h:r:pass => Measure a / Measure b / Measure c / Measure d / Measure e / Measure f / Measure g / Measure h | outcome-pass / outcome-pass / outcome-pass / outcome-pass / outcome-pass / outcome-pass / outcome-pass / outcome-pass |  | Measure a
        a:r:pass b:r:pass c:r:pass d:r:pass e:r:pass f:r:pass g:r:pass h:r:pass i:r:near => Measure i / Measure a / Measure b / Measure c / Measure d / Measure e / Measure f / Measure g | outcome-inconclusive / outcome-pass / outcome-pass / outcome-pass / outcome-pass / outcome-pass / outcome-pass / outcome-pass | more-figures: 1 | Measure a
        a:f:pass b:f:pass c:f:pass d:f:pass e:f:pass f:f:pass g:f:pass h:f:pass i:r:pass => Measure i / Measure a / Measure b / Measure c / Measure d / Measure e / Measure f / Measure g | outcome-pass / outcome-pass / outcome-pass / outcome-pass / outcome-pass / outcome-pass / outcome-pass / outcome-pass | more-figures: 1 | Measure a
        # Nothing required and none marked: none.
        a::pass                        => | | |
        ",
        listed,
    );
}

/// The figures of the other kinds: one for each part of smoke that has a limit, or all where
/// none has; one for all cylinders; none in words.
#[test]
fn the_figures_of_other_kinds() {
    let smoke = |limits: &str| {
        let reading = "opacity_percent = 10\nclear_seconds = 8.5\ninstrument = \"i\"";
        let report = SmallJob::new()
            .instrument("i", "unit = \"%\"\naccuracy = 1")
            .measure(
                "m",
                &format!("kind = \"smoke\"\nfront_page = true\n{limits}"),
                reading,
                reading,
            )
            .pages();
        first_page(&report, "figures")
    };
    assert_eq!(
        smoke(""),
        "smoke-opacity: Measure m / smoke-clear: Measure m"
    );
    assert_eq!(smoke("max_clear_seconds = 15"), "smoke-clear: Measure m");
    assert_eq!(
        smoke("max_opacity_percent = 15"),
        "smoke-opacity: Measure m"
    );
    let rows = |first: &str| {
        format!(
            "rows = [{{ at = 1, value = {first} }}, {{ at = 2, value = 5 }}]\nunit = \"bar\"\nuncertainty = 1"
        )
    };
    let cylinders =
        "kind = \"value\"\nat = \"cylinders\"\nunit = \"bar\"\nmax = 10\nfront_page = true";
    let text = "kind = \"text\"\nfront_page = true";
    let report = SmallJob::new()
        .cylinders(2)
        .measure("w", text, "text = \"loud\"", "text = \"quiet\"")
        .measure("m", cylinders, &rows("14"), &rows("5"))
        .pages();
    assert_eq!(
        first_page(&report, "figures"),
        "positions-inside: cylinder-many; Measure m"
    );
    let figure = &report.front.figures[0];
    assert_eq!(
        (figure.before.as_str(), figure.after.as_str()),
        ("<k-of-n: 1; 2>", "<k-of-n: 2; 2>")
    );
}

/// What is about this job stands on the page; what such tests can never tell stands behind it,
/// and the page says where.
#[test]
fn what_a_hurried_reader_must_not_miss() {
    hold(
        "
        measures | tests | more => reservations | behind
        a:r:pass   |              | => |
        a:r:narrow |              | => reservation-conditional-pass: Measure a |
        a:r:pass   | oil-pressure | => | behind-cannot-tell
        a:r:narrow | oil-pressure | => reservation-conditional-pass: Measure a | behind-cannot-tell
        a:r:pass   | -            | cannot_tell = ['One', 'Two'] => | behind-cannot-tell
        ",
        |row| {
            let mut job = SmallJob::new();
            let tests: Vec<&str> = row.at("tests").split_whitespace().collect();
            for (at, measure) in row.at("measures").split_whitespace().enumerate() {
                let [id, keys, found] = measure.split(':').collect::<Vec<_>>()[..] else {
                    panic!("{measure}");
                };
                let keys = match keys {
                    "r" => "required = true",
                    "" => "",
                    _ => "front_page = true",
                };
                let test = match tests.get(at) {
                    Some(&"-") | None => String::new(),
                    Some(test) => format!("test = \"{test}\""),
                };
                let more = row.at("more").replace('\'', "\"");
                job = job.found_with(found, id, &format!("{keys}\n{test}\n{more}"));
            }
            job
        },
    );
}

/// Three reservations have room, the weightiest first; of the others the page says how many
/// there are, and where.
#[test]
fn three_reservations_and_a_pointer() {
    let page = |more: &str| {
        let report = SmallJob::new()
            .found("narrow", "a", true)
            .found("outside", "b", false)
            .found("worse", "c", false)
            .work("", more)
            .pages();
        let all = report.front.reservations.clone();
        (all, first_page(&report, "behind"))
    };
    let (all, behind) = page("");
    assert_eq!(
        (all.len(), behind.as_str()),
        (3, "more-reservations: 1"),
        "{all:?}"
    );
    let two = "[[intervention]]\nwhat = \"Thing 2\"\n";
    let (all, behind) = page(two);
    assert_eq!(
        (all.len(), behind.as_str()),
        (3, "more-reservations: 2"),
        "{all:?}"
    );
}

/// What was done, what to watch, what was not needed: five lines have room, and four for what
/// was not needed; the last line counts the rest.
#[test]
fn the_lists_of_the_page() {
    hold(
        "
        done | repaired | left | watch | spared => done | still wrong | watch | not needed | reservations
        1 | 0 | 0 | 0 | 0 => New seals | | | |
        2 | 0 | 0 | 0 | 0 => New seals / Thing 2 | | | | attribution-several: 2
        1 | 1 | 0 | 0 | 0 => New seals / also-repaired: Fault 1 | | | | attribution-several: 2
        5 | 0 | 0 | 0 | 0 => New seals / Thing 2 / Thing 3 / Thing 4 / Thing 5 | | | | attribution-several: 5
        6 | 0 | 0 | 0 | 0 => New seals / Thing 2 / Thing 3 / Thing 4 / more-items: 2 | | | | attribution-several: 6
        # What was left stands apart from what to watch, and brings no change about.
        1 | 0 | 1 | 2 | 0 => New seals | Left 1 | Advice 1 / Advice 2 | |
        1 | 0 | 2 | 4 | 0 => New seals | Left 1 / Left 2 | Advice 1 / Advice 2 / Advice 3 / Advice 4 | |
        1 | 0 | 0 | 0 | 4 => New seals | | | Part 1 / Part 2 / Part 3 / Part 4 |
        1 | 0 | 0 | 0 | 5 => New seals | | | Part 1 / Part 2 / Part 3 / more-items: 2 |
        ",
        |row| {
            let count = |column| row.at(column).parse::<usize>().unwrap();
            let mut tables = String::new();
            for n in 2..=count("done") {
                tables += &format!("[[intervention]]\nwhat = \"Thing {n}\"\n");
            }
            for n in 1..=count("repaired") {
                tables += &format!("[[also_found]]\nwhat = \"Fault {n}\"\noutcome = \"repaired\"\n");
            }
            for n in 1..=count("left") {
                tables += &format!("[[also_found]]\nwhat = \"Left {n}\"\noutcome = \"left\"\n");
            }
            for n in 1..=count("spared") {
                tables += &format!("[[not_needed]]\nwhat = \"Part {n}\"\n");
            }
            let advice: Vec<String> =
                (1..=count("watch")).map(|n| format!("\"Advice {n}\"")).collect();
            SmallJob::new()
                .found("pass", "m", true)
                .work(&format!("watch = [{}]", advice.join(", ")), &tables)
        },
    );
}

/// The page is issued on 6 March 2026: a follow-up on that day is still to come.
#[test]
fn the_follow_up() {
    hold(
        "
        day        => next
        2026-03-05 => follow-up-was: 5 March 2026
        2026-03-06 => come-back: 6 March 2026
        2026-03-07 => come-back: 7 March 2026
        ",
        |row| {
            let day = format!("follow_up = {}", row.at("day"));
            SmallJob::new().found("pass", "m", true).work(&day, "")
        },
    );
}

/// Issued at noon on 6 March: a retest that starts a minute later was not made yet.
#[test]
fn a_page_issued_before_the_retest() {
    hold(
        "
        retest                    => reservations
        2026-03-06T12:00:00+00:00 =>
        2026-03-06T12:01:00+00:00 => issued-before-retest
        2026-03-06T12:30:00+01:00 =>
        ",
        |row| {
            SmallJob::new()
                .started("2026-03-02T07:00:00+00:00", row.at("retest"))
                .value(
                    "m",
                    "required = true\nmax = 10",
                    &bar("14", "1"),
                    &bar("5", "1"),
                )
        },
    );
}

/// A measure that fails is said to fail on the cylinders that fail: outside their limit for
/// certain, short of the improvement that was required, or with too few passes.
#[test]
fn the_cylinders_that_fail() {
    hold(
        "
        keys | before | after => lead | next
        # At most 10 bar, U = 1: 10.5 bar is too near to tell.
        max = 10 | 14 14 14 | 5 12 12     => reason-fails-at: positions-called: 2, 3; cylinder-one; Measure m / lead-matched |
        max = 10 | 14 14 14 | 12 10.5 9.5 => reason-fails-at: positions-called: 1; cylinder-one; Measure m / lead-matched |
        max = 10 | 14 14 14 | 5 10.5 9.5  => reason-inconclusive: Measure m / lead-matched | settle-instrument
        min_passes = 2 | 0/3 0/3 0/3 | 3/3 1/3 2/3 => reason-fails-at: positions-called: 2; cylinder-one; Measure m / lead-matched |
        ",
        |row| {
            let counted = row.at("before").contains('/');
            let cell = |(index, cell): (usize, &str)| match cell.split_once('/') {
                Some((passes, attempts)) => format!(
                    "{{ at = {}, passes = {passes}, attempts = {attempts} }}",
                    index + 1
                ),
                None => format!("{{ at = {}, value = {cell} }}", index + 1),
            };
            let reading = |column| {
                let cells = row.at(column).split_whitespace().enumerate();
                let rows = format!("rows = [{}]", cells.map(cell).collect::<Vec<_>>().join(", "));
                match counted {
                    true => rows,
                    false => format!("{rows}\nunit = \"bar\"\nuncertainty = 1"),
                }
            };
            let kind = match counted {
                true => "kind = \"passes\"\nat = \"cylinders\"",
                false => "kind = \"value\"\nat = \"cylinders\"\nunit = \"bar\"",
            };
            let keys = format!("{kind}\nrequired = true\n{}", row.at("keys"));
            SmallJob::new()
                .cylinders(3)
                .measure("m", &keys, &reading("before"), &reading("after"))
        },
    );
}

/// Whatever is better, it stands to the right: a line on which less is better runs from right
/// to left.
#[test]
fn on_a_line_better_is_to_the_right() {
    answers(
        "
        keys              => mirrored
        max = 10          => true
        min = 10          => false
        min = 5, max = 15 => false
        ",
        |row| {
            let keys = format!("required = true\n{}", row.at("keys").replace(", ", "\n"));
            let job = SmallJob::new().value("m", &keys, &bar("14", "0.6"), &bar("12", "0.6"));
            let mirrored = line(&job.pages()).mirrored;
            move |_: &str| mirrored.to_string()
        },
    );
}

/// A report that is made again counts its issues, in its head, in the foot of every page, and
/// on page 1 with the last reason; behind it stands each.
#[test]
fn a_report_that_is_made_again() {
    let pages = |reasons: &str| {
        let job = SmallJob::new().found("pass", "m", true);
        job.work(&format!("reissued = [{reasons}]"), "").pages()
    };
    let told = |report: &Report| {
        let sheet = &report.sheet;
        let said = sheet.head[1].strip_prefix("<head-issue: ").unwrap();
        let number = said.split("; ").next().unwrap();
        assert!(sheet.foot.contains(&sheet.head[1]));
        (number.to_owned(), plain(&report.front.reissued))
    };
    let evidence = |report: &Report| {
        let all = report
            .evidence
            .iter()
            .filter(|one| one.starts_with("<reissued"));
        all.map(|one| plain(one)).collect::<Vec<_>>()
    };
    let first = pages("");
    assert_eq!(told(&first), ("1".to_owned(), String::new()));
    assert_eq!(evidence(&first), [""; 0]);
    let third = pages("\"A name was wrong\", \"The price was missing\"");
    let last = "reissued: 2; 3; The price was missing";
    assert_eq!(told(&third), ("3".to_owned(), last.to_owned()));
    assert_eq!(evidence(&third), ["reissued: 1; 2; A name was wrong", last]);
}
