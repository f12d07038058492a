//! `shop.toml` → [`Shop`].

use super::shapes::{PaperWord, ShopFile};
use crate::job::{Paper, Shop};

/// The shop's particulars. Whatever the shape allows is sound.
pub fn shop(shape: ShopFile) -> Shop {
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
    }
}
