//! `shop.toml`

use schemars::JsonSchema;
use serde::Deserialize;

use crate::job::Paper;
use crate::quantity::System;

/// `shop.toml`: the shop's own particulars. It is in the job folder or in any folder
/// above it, so that one file can serve all jobs.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ShopFile {
    /// Version of the format: 1.
    #[schemars(range(min = 1, max = 1))]
    pub format: u32,
    /// The shop's name, as printed at the top of the report.
    #[schemars(length(min = 1, max = 120))]
    pub name: String,
    /// Postal address, line by line.
    #[serde(default)]
    #[schemars(length(max = 6), inner(length(min = 1, max = 120)))]
    pub address: Vec<String>,
    /// Telephone number.
    #[schemars(length(min = 1, max = 60))]
    pub phone: Option<String>,
    /// Email address.
    #[schemars(length(min = 1, max = 120))]
    pub email: Option<String>,
    /// Licence or registration, as it should be printed.
    #[schemars(length(min = 1, max = 120))]
    pub licence: Option<String>,
    /// The paper you print on: `a4` (default) or `us-letter`.
    pub paper: Option<Paper>,
    /// The language of reports, receipts and worksheets, as a BCP 47 tag: `en` (default),
    /// `en-US`, `es`, or one whose wording you provide with `--template`.
    #[schemars(length(min = 2, max = 35))]
    pub language: Option<String>,
    /// A second family of units: important figures are given in it too, in parentheses.
    /// `si` or `us-customary`. Without it, only the units of limits.toml are used.
    pub second_units: Option<System>,
    /// Address of a time-stamp authority (RFC 3161), such as
    /// `http://stamp.example/tsr`. It then attests when a document was signed. Plain
    /// `http` only: the answer itself is signed.
    #[schemars(length(min = 1, max = 300))]
    pub time_stamp: Option<String>,
    /// Your logo: a PNG or JPEG in the same folder as this file, such as `logo.png`.
    #[schemars(length(min = 1, max = 200))]
    pub logo: Option<String>,
    /// The colour of marks and labels, such as `#274b6d`; dark enough to be read on
    /// white paper.
    #[schemars(length(min = 1, max = 20))]
    pub accent: Option<String>,
}
