//! Lengths as people write them, exact to the nanometre; the sizes that the trade builds from them;
//! the board foot; money; weights, and volumes of liquids.
//!
//! This crate never knows what a length is a length of. A kerf, a diameter and a board are all a
//! [`Length`] here; which values make sense for which is said where the quantity has its name. A
//! [`Size`] is three lengths as they were *named*: what a named 2x6 is sawn to is policy, and lives
//! elsewhere. There is no price, no species and no file format here.
//!
//! # What is where
//!
//! | to | see |
//! |---|---|
//! | hold a length | [`Length`] |
//! | read one as it was typed | [`Length::parse`], [`LengthFault`] |
//! | print one on the marks of a scale | [`Scale`] |
//! | read and print a size such as `2x6x12` or `4/4` | [`Size`], [`SizeFault`] |
//! | hold an amount of money | [`Money`], [`MoneyFault`] |
//! | hold a weight, or a volume of fuel or water | [`Weight`], [`Fluid`] |
//! | tally lumber | [`board_feet`], [`board_feet_micro`] |
//!
//! # Example
//! ```
//! use pithward_measure::{Length, Scale, Size, Unit, board_feet};
//!
//! let opening = Length::parse("24-1/2\"", Unit::Inch)?;
//! assert_eq!(Scale::Sixteenths.show(opening).to_string(), "24 1/2 in");
//! assert_eq!(Scale::Millimetres.show(opening).to_string(), "622 mm");
//!
//! let size = Size::parse("2 x 6 x 12")?;
//! assert_eq!(size.to_string(), "2x6x12");
//! assert_eq!(board_feet(size.thickness, Length::inches(6), Length::feet(12)), 12.0);
//!
//! let fault = Length::parse("12 fot", Unit::Inch).unwrap_err();
//! assert_eq!(fault.span(), Some(3..6));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod board_feet;
mod decimal;
mod fault;
mod fluid;
mod length;
mod money;
mod reading;
mod scale;
mod size;
mod weight;
mod writing;

pub use board_feet::{board_feet, board_feet_micro};
pub use fault::{Excerpt, LengthFault, Spot};
pub use fluid::{Fluid, FluidFault};
pub use length::Length;
pub use money::{Currency, Money, MoneyFault};
pub use reading::Unit;
pub use scale::Scale;
pub use size::{Dimension, Limits, Size, SizeFault, Width, Writing};
pub use weight::{Weight, WeightFault};
