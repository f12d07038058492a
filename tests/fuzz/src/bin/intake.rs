//! Any six texts through intake and judgement: faults are told, nothing panics, and
//! no figure is other than finite.
//!
//! The texts are parted by a line of `====`, in the order of the files of a job.

#![no_main]

use std::collections::BTreeMap;

use libfuzzer_sys::fuzz_target;
use retestify::evidence::{ResultFile, to_json};
use retestify::files::{Digest, Input, ReadFault, Source};
use retestify::intake::{self, Depth, JOB_FILES};

struct Files(BTreeMap<&'static str, Vec<u8>>);

impl Source for Files {
    fn read(&self, name: &str, limit: u64) -> Result<Input, ReadFault> {
        let bytes = self.0.get(name).ok_or(ReadFault::Missing)?;
        if bytes.len() as u64 > limit {
            return Err(ReadFault::TooLarge { limit });
        }
        Ok(Input::new(name, bytes.clone()))
    }

    fn digest(&self, name: &str) -> Result<(Digest, u64), ReadFault> {
        let bytes = self.0.get(name).ok_or(ReadFault::Missing)?;
        Ok((Digest::of(bytes), bytes.len() as u64))
    }
}

fuzz_target!(|bytes: &[u8]| {
    let text = String::from_utf8_lossy(bytes);
    let mut parts = text.split("\n====\n").map(|part| part.as_bytes().to_vec());
    let shop = parts.next().unwrap_or_default();
    let files = JOB_FILES.into_iter().zip(parts).collect();
    let shop = Ok(Input::new("shop.toml", shop));
    match intake::read(&Files(files), shop, &|_| true, Depth::Texts) {
        Err(faults) => assert!(!faults.is_empty()),
        Ok(read) => {
            let judgement = retestify::judge::judge(&read.job);
            let json = to_json(&ResultFile::new(&read.job, &judgement, []));
            // A figure that is not finite has no JSON form, and leaves nothing.
            assert!(json.len() > 2);
        }
    }
});
