//! Any six texts through intake and judgement: problems are told, nothing panics, and
//! no figure is other than finite.
//!
//! The texts are parted by a line of `====`: the shop's first, then the files of a job in
//! their order.

#![no_main]

use std::collections::BTreeMap;

use libfuzzer_sys::fuzz_target;
use retestify::intake::{self, Inputs, Media, SHOP_FILE};
use retestify::job::JobFile;
use retestify::judge::judge;
use retestify::result::{ResultFile, to_json};

fuzz_target!(|bytes: &[u8]| {
    let text = String::from_utf8_lossy(bytes);
    let parts = text.split("\n====\n").map(|part| part.as_bytes().to_vec());
    let names = [SHOP_FILE]
        .into_iter()
        .chain(JobFile::ALL.map(JobFile::name));
    let files: BTreeMap<String, Vec<u8>> = names.map(str::to_owned).zip(parts).collect();
    let inputs = Inputs {
        job: &files,
        shop: &files,
    };
    match intake::read_job(inputs, &|_| true, Media::Ignored) {
        Err(problems) => assert!(!problems.is_empty()),
        Ok(read) => {
            let judgement = judge(&read.job);
            let json = to_json(&ResultFile::new(&read.job, &judgement, []));
            // A figure that is not finite has no JSON form, and leaves nothing.
            assert!(json.len() > 2);
        }
    }
});
