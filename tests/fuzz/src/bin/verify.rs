//! Any bytes at all through `verify`: it must end, and must not panic.
//!
//! The certificate in the expectation is none: whatever is found must not be "yes"
//! to "is it by a signer that you know?".

#![no_main]

use libfuzzer_sys::fuzz_target;
use retestify::verification::{Answer, Carried, Expected, Question, seal_of_receipt, verify};

fuzz_target!(|bytes: &[u8]| {
    let expected = Expected {
        seal: seal_of_receipt(bytes).ok(),
        receipt: Some(Carried::of(bytes)),
        ..Expected::default()
    };
    let found = verify(bytes, &expected);
    assert_ne!(found.answer(Question::ExpectedSigner), Answer::Yes);
});
