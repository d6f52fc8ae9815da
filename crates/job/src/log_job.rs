//! One log to be opened: what was measured, what is wanted, and on which mill.

use pithward_geometry::{Log, Mill};
use pithward_measure::{Length, Scale, Size};
use pithward_optimizer::Settings;
use pithward_trade::{SizePolicy, Species, Target, WaneLimit};

/// One log, its wants and its mill, checked and ready to be planned.
#[derive(Clone, Debug)]
pub struct LogJob {
    /// The log, inside its bark.
    pub log: Log,
    /// Its species, where it was named.
    pub species: Option<&'static Species>,
    /// Where the thickness of the bark comes from.
    pub bark: BarkSource,
    /// The diameters were taped over the bark; `log` has it taken off.
    pub taped_over_bark: bool,
    /// The mill.
    pub mill: Mill,
    /// Where the mill's figures come from.
    pub mill_source: MillSource,
    /// The mill's scale, in which heights are printed.
    pub scale: Scale,
    /// How named sizes become sawn ones.
    pub policy: SizePolicy,
    /// What is taken off the log beyond the length that counts.
    pub trim: Length,
    /// The customer's list.
    pub wants: Vec<NamedWant>,
    /// How to search.
    pub settings: Settings,
}

/// Where the thickness of the bark comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BarkSource {
    /// It was given.
    Given,
    /// From the species' average share of bark.
    Species,
    /// No bark: neither given nor a species to go by.
    None,
}

/// Where the mill's figures come from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum MillSource {
    /// The stated generic mill that ships with the program.
    Generic,
    /// A file.
    File(String),
}

/// One line of the customer's list, as it was named.
#[derive(Clone, Debug)]
pub struct NamedWant {
    /// The size.
    pub size: Size,
    /// What is sawn for it, green.
    pub target: Target,
    /// How many; `None` for as many as come.
    pub count: Option<u32>,
    /// More than the count is welcome.
    pub more_welcome: bool,
    /// Lengths that are accepted, shortest first.
    pub lengths: Vec<Length>,
    /// Wood that may be missing at a corner.
    pub wane: WaneLimit,
}
