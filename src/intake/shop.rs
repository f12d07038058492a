//! `shop.toml` → [`Shop`].

use super::document::Document;
use super::fault::Faults;
use super::shapes::{PaperWord, ShopFile};
use crate::job::{Paper, Shop};

/// The shop's particulars.
pub fn shop(document: &Document, shape: ShopFile, faults: &mut Faults) -> Shop {
    if let Some(address) = &shape.time_stamp
        && !is_http(address)
    {
        document.fault(
            &["time_stamp"],
            format!("`{address}` is not an `http://` address"),
            "write it as `http://host/path`; time-stamp authorities answer over plain http, and \
             the answer is itself signed",
            faults,
        );
    }
    Shop {
        name: shape.name,
        address: shape.address,
        phone: shape.phone,
        email: shape.email,
        licence: shape.licence,
        paper: match shape.paper {
            Some(PaperWord::UsLetter) => Paper::UsLetter,
            Some(PaperWord::A4) | None => Paper::A4,
        },
        time_stamp: shape.time_stamp,
    }
}

fn is_http(address: &str) -> bool {
    address
        .strip_prefix("http://")
        .is_some_and(|rest| !rest.is_empty() && rest.bytes().all(|byte| byte.is_ascii_graphic()))
}
