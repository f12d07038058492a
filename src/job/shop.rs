//! The shop that signs for the work.

/// A shop's own particulars.
#[derive(Debug, Clone)]
pub struct Shop {
    /// The name that heads the report.
    pub name: String,
    /// Postal address, line by line.
    pub address: Vec<String>,
    /// Telephone.
    pub phone: Option<String>,
    /// Electronic mail.
    pub email: Option<String>,
    /// Licence or registration.
    pub licence: Option<String>,
    /// The paper that the shop prints on.
    pub paper: Paper,
    /// The address of the time-stamp authority it uses.
    pub time_stamp: Option<String>,
}

/// The size of a page.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Paper {
    /// ISO 216 A4, 210 mm × 297 mm.
    A4,
    /// US Letter, 8.5 in × 11 in.
    UsLetter,
}
