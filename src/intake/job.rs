//! `job.toml` → the head of a [`Plan`].

use chrono::NaiveDate;

use super::common_checks;
use super::problem::Problems;
use super::shapes::{InstrumentTable, JobFile, Moment};
use super::toml_document::Document;
use crate::job::{Customer, HAND_TIMING_SECONDS, Instrument, Limits, Machine, Plan, Stated};
use crate::quantity::{Dimension, Unit};

/// What `job.toml` says.
pub struct Head {
    pub number: String,
    pub complaint: String,
    pub order: Option<String>,
    pub received: Option<NaiveDate>,
    pub customer: Customer,
    pub machine: Machine,
    pub instruments: Vec<Instrument>,
}

impl Head {
    /// The plan that it makes with `limits`.
    pub fn plan(self, limits: Limits) -> Plan {
        Plan {
            number: self.number,
            complaint: self.complaint,
            order: self.order,
            received: self.received,
            customer: self.customer,
            machine: self.machine,
            instruments: self.instruments,
            limits,
        }
    }
}

/// The head of the job, with its instruments.
pub fn head(document: &Document, shape: JobFile, problems: &mut Problems) -> Option<Head> {
    let before = problems.len();
    let received = shape
        .received
        .and_then(|day| common_checks::day(document, &["received"], day, problems));
    let mut instruments: Vec<Instrument> = Vec::new();
    for (index, table) in shape.instrument.into_iter().enumerate() {
        let at = index.to_string();
        if instruments.iter().any(|known| known.id == table.id) {
            document.problem(
                &["instrument", &at, "id"],
                format!("there are two instruments with the id `{}`", table.id),
                "give each instrument, and each range you use, its own id",
                problems,
            );
        }
        instruments.extend(instrument(document, &at, table, problems));
    }
    if shape.job.contains(['\n', '\r', '\t']) {
        document.problem(
            &["job"],
            "the job's number has a line break or a tab",
            "write it on one line",
            problems,
        );
    }
    (problems.len() == before).then(|| Head {
        number: shape.job,
        complaint: shape.complaint.trim().to_owned(),
        order: shape.order,
        received,
        customer: Customer {
            name: shape.customer.name,
            contact: shape.customer.contact,
        },
        machine: Machine {
            name: shape.machine.name,
            maker: shape.machine.maker,
            model: shape.machine.model,
            serial: shape.machine.serial,
            details: shape.machine.details,
            cylinders: shape.machine.cylinders.map(usize::from),
            meter: shape.machine.meter,
        },
        instruments,
    })
}

/// An instrument that was calibrated between the runs need not have the same error in both.
pub fn calibrated_between(
    document: &Document,
    head: &Head,
    baseline: Moment,
    retest: Moment,
    problems: &mut Problems,
) {
    let day = |moment| common_checks::moment_of(moment).map(|moment| moment.date_naive());
    let (Some(baseline), Some(retest)) = (day(baseline), day(retest)) else {
        return;
    };
    for (index, instrument) in head.instruments.iter().enumerate() {
        let between = instrument
            .calibrated
            .is_some_and(|day| baseline < day && day <= retest);
        if between && instrument.common_error.is_some() {
            document.problem(
                &["instrument", &index.to_string(), "common_error"],
                format!(
                    "`{}` was calibrated between the runs, so its error need not be the same in \
                     both",
                    instrument.id
                ),
                "delete `common_error`, or correct `calibrated`",
                problems,
            );
        }
    }
}

fn instrument(
    document: &Document,
    at: &str,
    table: InstrumentTable,
    problems: &mut Problems,
) -> Option<Instrument> {
    let path = |key| ["instrument", at, key];
    common_checks::check_id(document, &path("id"), &table.id, problems);
    let calibrated = table
        .calibrated
        .and_then(|day| common_checks::day(document, &path("calibrated"), day, problems));
    let due = table
        .due
        .and_then(|day| common_checks::day(document, &path("due"), day, problems));
    if let (Some(calibrated), Some(due)) = (calibrated, due)
        && due < calibrated
    {
        document.problem(
            &path("due"),
            "the next calibration is due before the last one",
            "check both dates",
            problems,
        );
    }
    let unit = common_checks::unit(document, &path("unit"), &table.unit, problems)?;
    let errors = [
        table.accuracy,
        table.accuracy_percent_of_reading,
        table.resolution,
        table.uncertainty,
        table.hand_timing_seconds,
    ];
    let says_something = table.hand_timed || errors.into_iter().flatten().any(|error| error > 0.0);
    if !says_something {
        document.not_filled_in(
            &path("id"),
            format!("the errors of `{}` are not stated", table.id),
            "add `accuracy`, `accuracy_percent_of_reading`, `resolution` or `uncertainty` from its \
             manual or certificate, or `hand_timed = true`",
            problems,
        );
    }
    if (table.hand_timed || table.hand_timing_seconds.is_some())
        && unit.dimension() != Dimension::Time
    {
        document.problem(
            &path("unit"),
            "only an instrument that measures time can be hand timed",
            "write `unit = \"s\"`, or delete `hand_timed`",
            problems,
        );
    }
    let given = [("k", table.k.is_some()), ("dof", table.dof.is_some())];
    for (key, _) in given.into_iter().filter(|(_, is_given)| *is_given) {
        if table.uncertainty.is_none() {
            document.problem(
                &path(key),
                format!("`{key}` is given without `uncertainty`"),
                format!("add `uncertainty`, or delete `{key}`"),
                problems,
            );
        }
    }
    let common = [
        table.accuracy,
        table.accuracy_percent_of_reading,
        table.uncertainty,
    ];
    if table.common_error.is_some() && !common.into_iter().flatten().any(|error| error > 0.0) {
        document.problem(
            &path("common_error"),
            format!(
                "`{}` has no error that could be the same in both runs",
                table.id
            ),
            "add `accuracy`, `accuracy_percent_of_reading` or `uncertainty`, or delete `common_error`: \
             resolution and hand timing never cancel",
            problems,
        );
    }
    let mut error = |key, value: Option<f64>, unit| {
        value.and_then(|value| {
            common_checks::difference(document, &path(key), value, unit, problems)
        })
    };
    let (percent, second) = (Unit::named("%")?, Unit::named("s")?);
    let accuracy = error("accuracy", table.accuracy, unit);
    let accuracy_of_reading = error(
        "accuracy_percent_of_reading",
        table.accuracy_percent_of_reading,
        percent,
    );
    let resolution = error("resolution", table.resolution, unit);
    let hand_timing = table
        .hand_timing_seconds
        .or(table.hand_timed.then_some(HAND_TIMING_SECONDS));
    let hand_timing = error("hand_timing_seconds", hand_timing, second);
    let stated = error("uncertainty", table.uncertainty, unit);
    Some(Instrument {
        id: table.id,
        kind: table.kind,
        serial: table.serial,
        unit,
        accuracy,
        accuracy_of_reading,
        resolution,
        hand_timing,
        stated: stated.map(|expanded| Stated {
            expanded,
            k: table.k.unwrap_or(2.0),
            dof: table.dof,
        }),
        common_error: table.common_error,
        calibrated,
        due,
        certificate: table.certificate,
        laboratory: table.laboratory,
    })
}
