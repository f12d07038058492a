//! The rules of the verdict, held from outside: a small job in files, what the program
//! answers in `result.json`. Every rule has its table, with cases on both sides of each
//! of its bounds and on the bound itself. Expected values are worked out by hand or with
//! another program, never copied from this one.

mod advisory;
mod bands;
mod before_work;
mod cold_start;
mod concerns;
mod conditions;
mod counts;
mod cylinders;
mod depends;
mod desk;
mod doubts;
mod exact_pages;
mod first_page;
mod grades;
mod holds_unless;
mod improvement;
mod in_service;
mod instruments;
mod left_out;
mod limits;
mod lists;
mod more_severe;
mod narrow;
mod page;
mod photo_times;
mod points;
mod rates;
mod run_to_run;
mod scatter;
pub mod small_job;
mod smoke;
mod table;
mod target;
mod too_timid;
mod uncertainty;
mod verdict;
