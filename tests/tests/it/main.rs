//! All tests of this package, in one program: one is linked, and they run side by side.

mod bucking;
mod comparisons;
mod determinism;
mod drawings;
mod exhaustive;
mod exhaustive_piles;
mod mass;
mod master;
mod need;
mod published;
mod quarter;
mod random_piles;
mod read_plan;
mod replay_agrees;
mod replay_real;
mod replay_refuses;
mod resume_agrees;
mod roundlog;
mod scanned;
mod staged2d;
mod watch;
