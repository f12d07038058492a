//! The job as a form in the browser, served by the program itself.
//!
//! The files stay the truth: [`Form`] shows what they say, writes what is typed into them by
//! way of `document`, whole or not at all (`save`), and asks the same intake and the same
//! judge as `check` what that comes to (`so_far`). Nothing is judged here.
//!
//! The same form is a table too, `sheet`: what comes back in one, and the table of a logger, goes
//! through the same fields and the same saver.
//!
//! A request goes `server` (who may ask, and how much) → `routes` (which page) → `desk` (the
//! job as it lies there) → `steps` (what is asked for) → `save` → `page`.

mod acts;
pub mod bench;
pub mod blank;
mod blank_plan;
mod desk;
mod document;
mod field_html;
mod frame;
mod html;
mod page;
mod patience;
mod plan_steps;
mod problem_words;
mod routes;
mod run_steps;
mod save;
mod server;
mod session;
mod sheet;
mod sheet_columns;
mod sheet_form;
mod sheet_read;
mod sheet_take;
mod sheet_write;
mod so_far;
mod steps;
mod tidy;
mod typed;
mod uploads;
mod work_steps;

pub use acts::{Act, Done};
pub use problem_words::said;
pub use routes::{Job, words_for};
pub use server::{Doorkeeper, Form, Listen, World};
pub use sheet::{Ask, Prepared, TableKind, prepare, worksheet_table};
pub use sheet_read::FILE_LIMIT;
pub use sheet_take::{Figure, TakeError, Taking};
pub use typed::Zone;
