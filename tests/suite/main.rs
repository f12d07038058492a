//! The tests of the whole program. One binary, so that the typesetter is linked
//! once; one module for each thing that is promised.

// Tests work out what they expect in whatever way is plainest.
#![allow(clippy::disallowed_methods)]

mod architecture;
mod attacks;
mod bad_exact;
mod bad_input;
mod bad_limits;
mod bad_plans;
mod bad_points;
mod bad_positions;
mod bad_readings;
mod changed_bytes;
mod command_cases;
mod commands;
mod conditions;
mod digits;
mod error_rates;
mod error_rates_worked_out;
mod evidence;
mod extreme;
mod fill;
mod films;
mod first_page;
mod folder;
mod hostile;
mod in_spanish;
mod limit_rates;
mod look;
mod one_answer;
mod pages;
mod pages_again;
mod photos;
mod picture;
mod properties;
mod published;
mod report;
mod rules;
mod samples;
mod simulated;
mod stages;
mod story;
mod ties_between_runs;
mod units;
mod vectors;
mod verdict;
mod words;
mod worksheet;
#[cfg(unix)]
mod written;
