//! The signature over the raw bytes of a file, before any PDF library reads them.

use crate::signature::{CmsError, Field, FieldError, Signed, find_field, read_cms};

/// The signature that was found, if any.
pub(super) enum SignedBytes {
    /// No signature, or one that is not in the required place.
    NoField(FieldError),
    /// A signature over the whole file that is not valid.
    NotGood(Field, CmsError),
    /// A valid signature over the whole file.
    Good(Field, Box<Signed>),
}

impl SignedBytes {
    /// Looks for the signature of `file`.
    pub fn find(file: &[u8]) -> Self {
        match find_field(file) {
            Err(error) => Self::NoField(error),
            Ok(field) => match read_cms(&field.cms, field.fill, field.digest) {
                Err(error) => Self::NotGood(field, error),
                Ok(signed) => Self::Good(field, Box::new(signed)),
            },
        }
    }

    /// The place of the signature.
    pub fn field(&self) -> Option<&Field> {
        match self {
            Self::NoField(_) => None,
            Self::NotGood(field, _) | Self::Good(field, _) => Some(field),
        }
    }

    /// The signature, if it is valid.
    pub fn sound(&self) -> Option<&Signed> {
        match self {
            Self::Good(_, signed) => Some(signed),
            Self::NoField(_) | Self::NotGood(..) => None,
        }
    }
}
