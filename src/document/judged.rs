//! What the pipeline knows of a job once it was read and compared with its seals.

use crate::intake::Intake;
use crate::job::{Baselined, Job};
use crate::judge::Judgement;
use crate::seals::Sealing;

/// A job that was read, judged and compared with its seals.
pub struct Judged {
    /// What was read.
    pub intake: Intake<Job>,
    /// What was judged.
    pub judgement: Judgement,
    /// The result for programs.
    pub result: String,
    /// The seals, and whether the files match them.
    pub sealing: Sealing,
}

/// A job before the work, compared with its seals.
pub struct DropOff {
    /// What was read.
    pub intake: Intake<Baselined>,
    /// The seals, and whether the files of the baseline match them.
    pub sealing: Sealing,
}
