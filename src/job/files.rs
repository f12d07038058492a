//! The files of a job: which there are, in which order, and which stage seals them.

use std::collections::BTreeSet;

use super::{Baselined, Job, Run, Work};

/// One text file of a job folder.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum JobFile {
    /// Machine, customer, complaint and instruments.
    Job,
    /// Measures, limits, decision rule and conditions.
    Limits,
    /// The readings before the work.
    Baseline,
    /// What was done.
    Work,
    /// The readings after the work.
    Retest,
}

impl JobFile {
    /// Every file, in the order in which a job happens: they are read, listed and sealed
    /// in it.
    pub const ALL: [Self; 5] = [
        Self::Job,
        Self::Limits,
        Self::Baseline,
        Self::Work,
        Self::Retest,
    ];

    /// The name in the job folder.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Job => "job.toml",
            Self::Limits => "limits.toml",
            Self::Baseline => "baseline.toml",
            Self::Work => "work.toml",
            Self::Retest => "retest.toml",
        }
    }

    /// The stage whose seal holds it.
    pub fn stage(self) -> Stage {
        match self {
            Self::Job | Self::Limits | Self::Baseline => Stage::Baseline,
            Self::Work | Self::Retest => Stage::Retest,
        }
    }
}

/// A part of the job that a seal closes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stage {
    /// Job, limits and the readings before the work.
    Baseline,
    /// The work, and the readings after it.
    Retest,
}

impl Stage {
    /// Both, in order.
    pub const ALL: [Self; 2] = [Self::Baseline, Self::Retest];

    /// The text files that its seal must hold.
    pub fn texts(self) -> impl Iterator<Item = JobFile> {
        let all = JobFile::ALL.into_iter();
        all.filter(move |file| file.stage() == self)
    }

    /// The word for it on the command line, in a seal and in a seal's file name.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Baseline => "baseline",
            Self::Retest => "retest",
        }
    }

    /// The stage of this word.
    pub fn of_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|stage| stage.word() == word)
    }
}

/// What was going on when a photo was taken, by the file that names it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum During {
    /// The baseline.
    Baseline,
    /// The work.
    Work,
    /// The retest.
    Retest,
}

impl Run {
    /// The photos and recordings that it names.
    fn media(&self) -> impl Iterator<Item = &str> {
        let photos = self.photos.iter().map(|photo| photo.file.as_str());
        photos.chain(self.recordings.iter().map(|one| one.file.as_str()))
    }
}

impl Work {
    /// The photos and recordings that it names.
    fn media(&self) -> impl Iterator<Item = &str> {
        let photos = self.photos.iter().map(|photo| photo.file.as_str());
        photos.chain(self.recordings.iter().map(|one| one.file.as_str()))
    }
}

/// A job, finished or not, as far as it can be sealed.
pub trait Sealable {
    /// The files that the seal of `stage` holds, each once: its texts, then the photos
    /// and recordings that these name.
    fn files_of(&self, stage: Stage) -> BTreeSet<&str>;
}

impl Sealable for Baselined {
    fn files_of(&self, stage: Stage) -> BTreeSet<&str> {
        match stage {
            Stage::Baseline => with_texts(stage, self.baseline.media()),
            Stage::Retest => BTreeSet::new(),
        }
    }
}

impl Sealable for Job {
    fn files_of(&self, stage: Stage) -> BTreeSet<&str> {
        match stage {
            Stage::Baseline => with_texts(stage, self.baseline.media()),
            Stage::Retest => with_texts(stage, self.work.media().chain(self.retest.media())),
        }
    }
}

fn with_texts<'a>(stage: Stage, media: impl Iterator<Item = &'a str>) -> BTreeSet<&'a str> {
    let texts = stage.texts().map(|text| -> &'a str { text.name() });
    texts.chain(media).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// `samples/EVIDENCE.md`, "A seal".
    #[test]
    fn each_text_is_sealed_by_one_stage_in_the_order_of_the_job() {
        let names = |stage: Stage| stage.texts().map(JobFile::name).collect::<Vec<_>>();
        assert_eq!(
            names(Stage::Baseline),
            ["job.toml", "limits.toml", "baseline.toml"]
        );
        assert_eq!(names(Stage::Retest), ["work.toml", "retest.toml"]);
        let sealed: Vec<JobFile> = Stage::ALL.into_iter().flat_map(Stage::texts).collect();
        assert_eq!(sealed, JobFile::ALL);
    }

    #[test]
    fn a_stage_is_known_by_its_word() {
        assert_eq!(Stage::of_word("baseline"), Some(Stage::Baseline));
        assert_eq!(Stage::of_word("retest"), Some(Stage::Retest));
        assert_eq!(Stage::of_word("work"), None);
    }
}
