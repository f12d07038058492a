//! The whole verification on changed bytes of a signed report with photos. It takes
//! minutes: `cargo test --release changed_bytes -- --ignored --nocapture`.

use std::sync::atomic::{AtomicUsize, Ordering};

use retestify::verification::{Answer, verify};

use crate::story::story;

/// How many places are changed, each in three ways.
const PLACES: usize = 7_000;

#[test]
#[ignore = "takes minutes; .ci/run runs it"]
fn no_changed_byte_of_a_report_goes_unseen() {
    let report = &story().report;
    assert_eq!(verify(report, &story().known()).overall(), Answer::Yes);
    // Spread over the whole file; the step is prime to all lengths that a part may have.
    let step = (report.len() / PLACES).max(1) | 1;
    let places: Vec<usize> = (0..report.len()).step_by(step).collect();
    let seen = AtomicUsize::new(0);
    std::thread::scope(|scope| {
        for half in places.chunks(places.len().div_ceil(2)) {
            let seen = &seen;
            scope.spawn(move || {
                let known = story().known();
                let mut file = report.clone();
                for place in half {
                    for mask in [0x01, 0x20, 0xFF] {
                        file[*place] ^= mask;
                        let found = verify(&file, &known).overall();
                        assert_ne!(found, Answer::Yes, "byte {place} ^ {mask:02x}");
                        file[*place] ^= mask;
                        seen.fetch_add(1, Ordering::Relaxed);
                    }
                }
            });
        }
    });
    let seen = seen.into_inner();
    println!("{seen} changed files, none unseen");
    assert!(seen >= 20_000, "{seen}");
}
