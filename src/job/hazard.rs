//! What can hurt someone.

use schemars::JsonSchema;
use serde::Deserialize;

/// What can hurt someone during a test.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Hazard {
    /// Fuel or oil under injection pressure.
    Injection,
    /// Exhaust gas.
    Exhaust,
    /// Belts, fans, shafts, and machines that start by themselves.
    RotatingParts,
    /// Batteries: gas, acid, short circuits.
    Battery,
    /// Hot surfaces, and hot liquids under pressure.
    Heat,
    /// Flammable liquids and vapours.
    Fire,
    /// A raised machine or a suspended load.
    Lifting,
    /// Mains voltage and stored charge.
    Electricity,
    /// Refrigerant and other gas under pressure.
    PressurisedGas,
    /// Flue gas of a burner.
    FlueGas,
    /// Oil or water under pressure.
    Hydraulics,
    /// A machine that can move as a whole, or move its tools.
    MovingMachine,
}
