//! What is sawn for a named size.
//!
//! `2x6` means three different things: two inches by six as it falls from the saw; a piece that
//! planes to the store's 1 1/2 x 5 1/2; or a piece that must measure two by six when dry and planed.
//! Nobody can guess which, so there is no default: the user names one of three policies.
//!
//! | policy | `2x6` is sawn | `4/4` is sawn | from |
//! |---|---|---|---|
//! | [`SizePolicy::Full`] | 2 x 6 | 1 | the name |
//! | [`SizePolicy::Dressed`] | 1 11/16 x 5 7/8 | 1 1/8 | [`softwood_sizes`]; hardwood trade sizes |
//! | [`SizePolicy::Finished`] | more than 2 x 6 | more than 1 | [`finish`](mod@crate::finish) |
//!
//! A random width is its least one.
//!
//! # Source
//! Softwood: see [`softwood_sizes`]. Hardwood quarters: 1/8 in over the name, published for 4/4, 5/4,
//! 6/4 and 8/4 as 1 1/8, 1 3/8, 1 5/8 and 2 1/8 in (woodworking knowledge base, True dimensions of 4/4
//! green lumber, 2005, and Lumber thickness and sawing tolerances, 2010); for other quarters the same
//! rule is ours.

use crate::softwood_sizes::{self, Class, Side};
use crate::{Direction, Finish, FinishFault, ShrinkageFault, Species, finish, shrinkage};
use pithward_measure::{Length, Size, Width, Writing};

/// What hardwood sold by the quarter is sawn over its name.
const QUARTERS_OVER_NAME: Length = Length::sixty_fourths(8);

/// Finished targets round up to this step when the size was written in inches...
const STEP_IMPERIAL: Length = Length::sixty_fourths(1);
/// ... and to this one, 0.1 mm, when it was written in millimetres.
const STEP_METRIC: Length = Length::nm(100_000);

/// What a named size stands for; the user chooses, nothing is assumed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum SizePolicy {
    /// Sawn exactly as named.
    Full,
    /// Sawn green so that it dresses to the standard size of that name.
    Dressed,
    /// The named size is the finished one, dry and planed.
    Finished(Finish),
}

/// What the saw is set to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Target {
    /// Green thickness.
    pub thickness: Length,
    /// Green width; the least one where the width is random.
    pub width: Length,
}

/// Why a named size has no target under a policy.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum TargetFault {
    /// The softwood standard does not list the size.
    #[error(
        "{class} of {} in {side} has no dressed size in the softwood standard, which lists {} in; \
         name a listed size, or have it sawn full or finished",
        named.inches_f64(),
        listed(*class, *side)
    )]
    NotListed {
        /// The class that the size falls in.
        class: Class,
        /// The side that is not listed.
        side: Side,
        /// Its named size.
        named: Length,
    },
    /// The softwood standard has no metric sizes.
    #[error(
        "{} mm x {} mm has no dressed size: the softwood standard is in inches (thickness {}, {} in; \
         width {} in; timbers in whole inches from 5); name one of those, or have it sawn full or finished",
        thickness.mm_f64(),
        width.mm_f64(),
        listed(Class::Board, Side::Thickness),
        listed(Class::Dimension, Side::Thickness),
        listed(Class::Board, Side::Width)
    )]
    Metric {
        /// Named thickness.
        thickness: Length,
        /// Named width.
        width: Length,
    },
    /// A finished size shrinks, and shrinkage goes by species.
    #[error(
        "a finished size needs the species of the log, because every species shrinks differently"
    )]
    SpeciesNeeded,
    /// The tables have no shrinkage for the species.
    #[error(
        "no published shrinkage is at hand for {species}; have it sawn full or dressed, or name a \
         species that shrinks alike"
    )]
    NoShrinkage {
        /// The species, as the tables name it.
        species: String,
    },
    /// The moisture content makes no sense.
    #[error(transparent)]
    Shrinkage(#[from] ShrinkageFault),
    /// Planing, `z` or deviation makes no sense.
    #[error(transparent)]
    Finish(#[from] FinishFault),
}

/// What is sawn for `size` under `policy`; only a finished size needs the species.
///
/// # Errors
/// [`TargetFault`]: a dressed size that no standard lists, or a finished one without the figures it
/// needs.
pub fn target(
    policy: SizePolicy,
    size: &Size,
    species: Option<&Species>,
) -> Result<Target, TargetFault> {
    let thickness = size.thickness;
    let (Width::Exactly(width) | Width::AtLeast(width)) = size.width;
    match policy {
        SizePolicy::Full => Ok(Target { thickness, width }),
        SizePolicy::Dressed => dressed(thickness, width, size.writing),
        SizePolicy::Finished(finish) => finished(thickness, width, size.writing, &finish, species),
    }
}

fn dressed(thickness: Length, width: Length, writing: Writing) -> Result<Target, TargetFault> {
    match writing {
        Writing::Quarters => Ok(Target { thickness: thickness + QUARTERS_OVER_NAME, width }),
        Writing::Metric => Err(TargetFault::Metric { thickness, width }),
        Writing::Imperial => {
            let class = Class::of(thickness, width);
            let rough = |side, named| {
                softwood_sizes::rough_green(class, side, named).ok_or(TargetFault::NotListed {
                    class,
                    side,
                    named,
                })
            };
            Ok(Target {
                thickness: rough(Side::Thickness, thickness)?,
                width: rough(Side::Width, width)?,
            })
        }
    }
}

/// Both sides shrink as along the rings: how the rings will lie in a board is not known before it is
/// sawn, and along them is the most that it can be, so nothing comes out scant.
fn finished(
    thickness: Length,
    width: Length,
    writing: Writing,
    finish: &Finish,
    species: Option<&Species>,
) -> Result<Target, TargetFault> {
    finish.check()?;
    let species = species.ok_or(TargetFault::SpeciesNeeded)?;
    let total = species
        .total_shrinkage_pct(Direction::Tangential)
        .ok_or_else(|| TargetFault::NoShrinkage { species: species.name.clone() })?;
    let shrink_pct = shrinkage::shrink_pct(total.value, finish.final_moisture_pct)?;
    let step = match writing {
        Writing::Imperial | Writing::Quarters => STEP_IMPERIAL,
        Writing::Metric => STEP_METRIC,
    };
    let green = |named| {
        let (z, deviation) = (finish.z, finish.sawing_deviation);
        finish::green_target(named, finish.planing, shrink_pct, z, deviation).ceil_to(step)
    };
    Ok(Target { thickness: green(thickness), width: green(width) })
}

/// The nominal sizes of the standard, for a message.
fn listed(class: Class, side: Side) -> String {
    if class == Class::Timber {
        return "whole inches from 5".to_owned();
    }
    let sizes = softwood_sizes::listed(class, side).map(|nominal| nominal.inches_f64().to_string());
    sizes.collect::<Vec<_>>().join(", ")
}

#[cfg(test)]
mod tests {
    use super::{SizePolicy, Target, TargetFault, target};
    use crate::published::inches;
    use crate::{Finish, Species};
    use pithward_measure::{Length, Size, Width, Writing};
    use proptest::prelude::*;

    fn size(thickness: &str, width: &str, writing: Writing) -> Size {
        let width = Width::Exactly(inches(width).unwrap());
        Size { thickness: inches(thickness).unwrap(), width, length: None, writing }
    }

    #[track_caller]
    fn check_dressed(size: &Size, thickness: &str, width: &str) {
        let expected =
            Target { thickness: inches(thickness).unwrap(), width: inches(width).unwrap() };
        assert_eq!(target(SizePolicy::Dressed, size, None), Ok(expected));
    }

    #[track_caller]
    fn check_fault(size: &Size, expected: &str) {
        assert_eq!(target(SizePolicy::Dressed, size, None).unwrap_err().to_string(), expected);
    }

    fn finish() -> Finish {
        Finish {
            final_moisture_pct: 8.0,
            planing: Length::sixty_fourths(8),
            z: 1.65,
            sawing_deviation: Length::from_inches_f64(0.03),
        }
    }

    #[test]
    fn full_is_as_named() {
        let named = size("2", "6", Writing::Imperial);
        let expected = Target { thickness: Length::inches(2), width: Length::inches(6) };
        assert_eq!(target(SizePolicy::Full, &named, None), Ok(expected));
    }

    #[test]
    fn a_random_width_is_its_least() {
        let named =
            Size { width: Width::AtLeast(Length::inches(4)), ..size("1", "4", Writing::Imperial) };
        assert_eq!(target(SizePolicy::Full, &named, None).unwrap().width, Length::inches(4));
        check_dressed(&named, "15/16", "3 13/16");
    }

    #[test]
    fn dressed_softwood() {
        check_dressed(&size("2", "4", Writing::Imperial), "1 11/16", "3 13/16");
        check_dressed(&size("2", "6", Writing::Imperial), "1 11/16", "5 7/8");
        check_dressed(&size("4", "4", Writing::Imperial), "3 13/16", "3 13/16");
        check_dressed(&size("1", "6", Writing::Imperial), "15/16", "5 7/8");
        check_dressed(&size("6", "8", Writing::Imperial), "5 5/8", "7 5/8");
    }

    #[test]
    fn dressed_hardwood_by_the_quarter() {
        for (named, sawn) in
            [("1", "1 1/8"), ("1 1/4", "1 3/8"), ("1 1/2", "1 5/8"), ("2", "2 1/8")]
        {
            check_dressed(&size(named, "6", Writing::Quarters), sawn, "6");
        }
    }

    #[test]
    fn a_size_that_is_not_listed_says_which_are() {
        check_fault(
            &size("2", "7", Writing::Imperial),
            "dimension lumber of 7 in width has no dressed size in the softwood standard, which lists \
             2, 2.5, 3, 3.5, 4, 4.5, 5, 6, 8, 10, 12, 14, 16 in; name a listed size, or have it sawn \
             full or finished",
        );
        check_fault(
            &size("1", "5 1/2", Writing::Imperial),
            "board of 5.5 in width has no dressed size in the softwood standard, which lists 2, 3, 4, \
             5, 6, 7, 8, 9, 10, 11, 12, 14, 16 in; name a listed size, or have it sawn full or finished",
        );
        check_fault(
            &size("6", "7 1/2", Writing::Imperial),
            "timber of 7.5 in width has no dressed size in the softwood standard, which lists whole \
             inches from 5 in; name a listed size, or have it sawn full or finished",
        );
        let metric = Size {
            thickness: Length::mm(50),
            width: Width::Exactly(Length::mm(150)),
            length: None,
            writing: Writing::Metric,
        };
        let fault = target(SizePolicy::Dressed, &metric, None).unwrap_err();
        assert!(fault.to_string().starts_with("50 mm x 150 mm has no dressed size"), "{fault}");
    }

    #[test]
    fn a_finished_size_needs_a_species_that_shrinks() {
        let policy = SizePolicy::Finished(finish());
        let named = size("1", "6", Writing::Imperial);
        assert_eq!(target(policy, &named, None), Err(TargetFault::SpeciesNeeded));
        let fault = target(policy, &named, Species::find("bur oak").ok()).unwrap_err();
        assert_eq!(fault, TargetFault::NoShrinkage { species: "Oak, bur".to_owned() });
        let wet = SizePolicy::Finished(Finish { final_moisture_pct: 40.0, ..finish() });
        let fault = target(wet, &named, Species::find("white oak").ok()).unwrap_err();
        assert_eq!(fault.to_string(), "final moisture must be between 0 % and 30 %, got 40 %");
    }

    /// White oak to 8 percent: 10.5 * 22 / 30 = 7.7 percent. 1 in: 1.125 / 0.923 + 1.65 * 0.03 =
    /// 1.26835 in, which is 81.2 64ths: 82. 6 in: 6.125 / 0.923 + 0.0495 = 6.68546: 428 of them.
    #[test]
    fn a_finished_size_in_inches_rounds_up_to_a_64th() {
        let named = size("1", "6", Writing::Imperial);
        let oak = Species::find("white oak").ok();
        let sawn = target(SizePolicy::Finished(finish()), &named, oak).unwrap();
        assert_eq!(sawn.thickness, Length::sixty_fourths(82));
        assert_eq!(sawn.width, Length::sixty_fourths(428));
    }

    /// The same oak, 25 mm, 3 mm planed off, no spread: 28 / 0.923 = 30.336 mm.
    #[test]
    fn a_finished_size_in_millimetres_rounds_up_to_a_tenth() {
        let named = Size {
            thickness: Length::mm(25),
            width: Width::AtLeast(Length::mm(100)),
            length: None,
            writing: Writing::Metric,
        };
        let finish = Finish { planing: Length::mm(3), sawing_deviation: Length::ZERO, ..finish() };
        let oak = Species::find("white oak").ok();
        let sawn = target(SizePolicy::Finished(finish), &named, oak).unwrap();
        assert_eq!(sawn.thickness, Length::nm(30_400_000));
    }

    proptest! {
        /// No finished target is ever under what must be left when it is dry.
        #[test]
        fn prop_a_finished_piece_is_never_scant(
            thickness in 32_i64..512, moisture in 0.0..30.0_f64, planing in 0_i64..32,
        ) {
            let finish = Finish {
                final_moisture_pct: moisture,
                planing: Length::sixty_fourths(planing),
                z: 0.0,
                sawing_deviation: Length::ZERO,
            };
            let named = Size {
                thickness: Length::sixty_fourths(thickness),
                width: Width::Exactly(Length::inches(8)),
                length: None,
                writing: Writing::Imperial,
            };
            for species in Species::all().iter().filter(|it| it.shrink_tangential_pct.is_some()) {
                let sawn = target(SizePolicy::Finished(finish), &named, Some(species)).unwrap();
                let total = species.shrink_tangential_pct.unwrap().value;
                let dry = sawn.thickness.inches_f64() * (1.0 - total * (1.0 - moisture / 30.0) / 100.0);
                let least = (named.thickness + finish.planing).inches_f64();
                prop_assert!(dry >= least - 1e-7, "{}: {dry} under {least}", species.name);
                prop_assert!(sawn.thickness >= named.thickness + finish.planing);
            }
        }
    }
}
