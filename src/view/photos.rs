//! The photos, and what is odd about the times at which they were taken.

use super::Material;
use super::data::Photo as PhotoData;
use super::figures;
use super::words::Words;
use crate::job::{CaptureTime, During, Photo};
use crate::judge::{Misfit, PhotoTimeDoubt, photo_time_doubts};

/// The photos of the same thing before and after, in the order of the baseline.
pub fn pairs(material: &Material<'_>, words: &Words) -> Vec<[PhotoData; 2]> {
    let job = material.job;
    let before = job
        .baseline
        .photos
        .iter()
        .filter(|photo| photo.pair.is_some());
    before
        .filter_map(|before| {
            let after = &job.retest.photos;
            let after = after.iter().find(|photo| photo.pair == before.pair)?;
            Some([
                set(material, before, During::Baseline, words)?,
                set(material, after, During::Retest, words)?,
            ])
        })
        .collect()
}

/// The photos that are not in a pair: baseline, work, retest.
pub fn others(material: &Material<'_>, words: &Words) -> Vec<PhotoData> {
    let job = material.job;
    let stages = [
        (&job.baseline.photos, During::Baseline),
        (&job.work.photos, During::Work),
        (&job.retest.photos, During::Retest),
    ];
    stages
        .into_iter()
        .flat_map(|(photos, stage)| photos.iter().map(move |photo| (photo, stage)))
        .filter(|(photo, _)| photo.pair.is_none())
        .filter_map(|(photo, stage)| set(material, photo, stage, words))
        .collect()
}

fn set(material: &Material<'_>, photo: &Photo, stage: During, words: &Words) -> Option<PhotoData> {
    let picture = material
        .pictures
        .iter()
        .find(|picture| picture.file == photo.file)?;
    let stage = match stage {
        During::Work => words.say("photo-during-work"),
        other => stage_name(other, words),
    };
    Some(PhotoData {
        path: picture.path.clone(),
        caption: words.say_with(
            "photo-caption",
            &[("stage", &stage), ("caption", &photo.caption)],
        ),
        alt: photo.alt.clone().unwrap_or_else(|| photo.caption.clone()),
        aspect: picture.aspect,
    })
}

fn stage_name(stage: During, words: &Words) -> String {
    words.say(match stage {
        During::Baseline => "run-baseline",
        During::Work => "stage-work",
        During::Retest => "run-retest",
    })
}

/// The photos whose camera times do not fit their run, one sentence each.
pub fn doubts(material: &Material<'_>, words: &Words) -> Vec<String> {
    photo_time_doubts(material.job)
        .iter()
        .map(|doubt| sentence(doubt, words))
        .collect()
}

/// A photo whose camera time does not fit, in a sentence.
pub fn sentence(doubt: &PhotoTimeDoubt<'_>, words: &Words) -> String {
    let id = match doubt.misfit {
        Misfit::AfterWorkStarted => "capture-after-work-started",
        Misfit::BeforeWorkEnded => "capture-before-work-ended",
        Misfit::DaysAway => "capture-days-away",
    };
    let mut sentence = words.say_with(
        id,
        &[
            ("caption", &doubt.photo.caption),
            ("stage", &stage_name(doubt.stage, words)),
            ("taken", &taken(doubt.taken, words)),
            ("against", &figures::moment(doubt.against, words)),
        ],
    );
    if doubt.taken.offset.is_none() {
        sentence.push(' ');
        sentence += &words.say("capture-no-zone");
    }
    sentence
}

fn taken(taken: CaptureTime, words: &Words) -> String {
    match taken.offset.and_then(|offset| taken.at(offset)) {
        Some(moment) => figures::moment(moment, words),
        None => figures::clock_time(taken.local, words),
    }
}
