//! The tests of the whole program. One binary, so that the typesetter is linked
//! once; one module for each thing that is promised.

mod architecture;
mod bad_input;
mod commands;
mod conditions;
mod folder;
mod look;
mod properties;
mod published;
mod report;
mod samples;
mod together;
mod verdict;
mod words;
