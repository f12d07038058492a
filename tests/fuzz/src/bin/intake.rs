//! Any six texts through intake and judgement: faults are told, nothing panics, and
//! no figure is other than finite.
//!
//! The texts are parted by a line of `====`, in the order of the files of a job.

#![no_main]

use std::collections::BTreeMap;

use libfuzzer_sys::fuzz_target;
use retestify::result::{ResultFile, to_json};
use retestify::files::Input;
use retestify::intake::{self, Depth, JOB_FILES};

fuzz_target!(|bytes: &[u8]| {
    let text = String::from_utf8_lossy(bytes);
    let mut parts = text.split("\n====\n").map(|part| part.as_bytes().to_vec());
    let shop = parts.next().unwrap_or_default();
    let names = JOB_FILES.into_iter().map(str::to_owned);
    let files: BTreeMap<String, Vec<u8>> = names.zip(parts).collect();
    let shop = Ok(Input::new("shop.toml", shop));
    match intake::read(&files, shop, &|_| true, Depth::Texts) {
        Err(faults) => assert!(!faults.is_empty()),
        Ok(read) => {
            let judgement = retestify::judge::judge(&read.job);
            let json = to_json(&ResultFile::new(&read.job, &judgement, []));
            // A figure that is not finite has no JSON form, and leaves nothing.
            assert!(json.len() > 2);
        }
    }
});
