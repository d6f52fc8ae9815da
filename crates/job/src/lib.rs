//! The day: what was measured and what is wanted.
//!
//! This crate never knows how a plan was found, nor how it will look.
//!
//! # The road
//!
//! ```text
//! what was typed -request-> every fault at once, or a job of one log  -> wants in the numbers that a search needs
//! a job file     -read----> every fault at once, or a job of the pile -> menus in the numbers that a search needs
//! ```
//!
//! | to | see |
//! |---|---|
//! | open one log | [`OpenRequest`] |
//! | count the pieces of one size in it | [`CountRequest`] |
//! | buck a stem into logs | [`BuckRequest`], [`StemJob`] |
//! | scale it by the log rules | [`ScaleRequest`], [`LogScales`] |
//! | plan a pile of logs | [`read_job`], [`PileJob`], [`starter_job`], [`job_schema`] |
//! | count the pieces of one size in it | [`PileJob::counting_job`] |
//! | count the logs that a list takes | [`NeedRequest`], [`PileJob::needing`] |
//! | go on with a half-sawn log | [`ResumeRequest`], [`ResumeJob`] |
//! | read a mill file | [`read_mill`], [`generic_mill`], [`mill_schema`] |
//! | read a log that was measured all round | [`read_shape`], [`read_shape_file`] |
//! | read one want | [`WantText`] |
//! | know what a plan was asked with | [`AskedFor`] |
//! | tell what is wrong with what was typed | [`Fault`] |

mod along;
mod as_grown;
mod asked;
mod basis;
mod bucked;
mod charges;
mod clock;
mod compare;
mod doubt;
mod fault;
mod file;
mod flaw_text;
mod grade_text;
mod heart_text;
mod input_file;
mod job_file;
mod learned;
mod length_list;
mod list_first;
mod log_called;
mod log_job;
mod log_request;
mod log_scale;
mod lumber;
mod mill_file;
mod need;
mod pace;
mod parts;
mod pile_count;
mod pile_job;
mod place;
mod plan_file;
mod rest_of_pile;
mod resume;
mod said;
mod sawing_request;
mod scanned;
mod seen;
mod shape_file;
mod size_policy;
mod stem;
mod stores;
mod typed;
mod want_text;
mod worth_text;
mod yard;

pub use along::Stretch;
pub use as_grown::AsGrown;
pub use asked::{AskedBy, AskedFile, AskedFor, AskedRest, Files, KEPT_WHOLE, Words};
pub use basis::{Basis, Figure};
pub use charges::{
    BilledHours, BoardPrice, Charges, ChargesForm, Drive, FootBasis, HourStep, Item, Least,
    LumberWork, OddWork, Part, Percent, Portion, RoundWay, Share, Shared,
};
pub use clock::clock_words;
pub use compare::{Advice, Comparison, MethodRow, Sure};
pub use doubt::{Doubt, DoubtForm, HiddenMetal, HiddenRot, Measured, Spread};
pub use fault::{
    ChargeFault, DoubtFault, Fault, FaultKind, FileFault, GradeFault, LearnedFault, Misread,
    PaceFault, PlanFileFault, ResumeFault, ShapeFileFault, SheetFault, StoresFault, YardFault,
};
pub use flaw_text::NamedFlaw;
pub use grade_text::{GradePrices, GradeTerms, PriceRow, WantGrade};
pub use heart_text::HeartRule;
pub use input_file::InputFile;
pub use job_file::{JobForm, job_schema, parse_job, read_job, starter_job};
pub use learned::{Learned, LearnedForm, Recovery, RecoveryForm};
pub use log_job::{
    BarkSource, COUNT_FIRST, First, LogJob, MillSource, NamedWant, PieceWorth, Scanned, Told,
    WantWeight,
};
pub use log_request::LogRequest;
pub use log_scale::{GreenWeight, LogScales, ScaleRequest};
pub use lumber::{Lumber, LumberForm};
pub use mill_file::{
    MillForm, Outfit, generic_mill, mill_schema, parse_mill, parse_outfit, read_mill,
};
pub use need::{NeedJob, NeedRequest, kind_faults};
pub use pace::{BladeLife, Feed, Pace, PaceForm, PassCount, PlanCounts, PlanTime, Stated, WorkDay};
pub use pile_count::size_faults;
pub use pile_job::{JobLog, JobWant, PileJob, WorthTerms};
pub use place::{FilePlace, Place};
pub use plan_file::{log_of_plan, plan_bytes};
pub use rest_of_pile::{Left, RestJob, WantLeft};
pub use resume::{AgainRequest, ResumeJob, ResumeRequest, is_told_by_height};
pub use sawing_request::{
    CountRequest, METHOD_WORDS, OpenRequest, PieceRules, SawingRequest, TAPER_WORDS,
};
pub use seen::{AllSeen, Guess, Quality, Quarters, Seen};
pub use shape_file::{read_shape, read_shape_file};
pub use size_policy::{POLICIES, PolicyRequest};
pub use stem::{BuckRequest, Bucking, BuckingRequest, CHAIN_KERF, JobStem, StemJob};
pub use stores::{Burns, Power, Stores, StoresForm};
pub use typed::{Switch, Typed, TypedList, TypedPath};
pub use want_text::{MOST_PIECES, WantText};
pub use yard::{Ground, Heard, LogsLie, Moved, Residue, Stacking, Yard, YardForm, read_time};
