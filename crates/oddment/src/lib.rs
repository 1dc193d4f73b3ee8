//! Bayesian authenticity engine for period furniture.
//!
//! An examiner writes down what was found on a piece, what was looked for and not found, and what
//! could not be looked at; [`assess`] returns the odds of every rival history of the piece, summed
//! into the verdicts original, married, converted and faked, with the reasons.
//!
//! ```
//! use oddment::{Case, Text, Verdict, assess, packs};
//! let pack = packs::load("drop-leaf-table")?;
//! let text = include_str!("../../../priors/cases/pieced-out-oval.toml");
//! let case = Case::load(Text::new("pieced-out-oval.toml", text), &pack)?;
//! let assessment = assess(&pack, &case)?;
//! let likeliest = assessment.verdicts.iter().max_by(|a, b| a.probability.total_cmp(&b.probability));
//! assert_eq!(likeliest.map(|v| v.verdict), Some(Verdict::Converted));
//! # Ok::<(), oddment::Error>(())
//! ```
//!
//! What it does: exact inference over histories, incidents, making dates, shared clarity of traces
//! and quality of examination, jointly, so that two findings with one cause do not count twice and
//! an innocent incident explains its signs away. What it does not: it certifies nothing, values
//! nothing, and knows no base rates (none are published); its packs hold elicited numbers, each
//! with its source and strength.
//!
//! The words: a *sign* is what can be seen, felt or measured at a *part*; a *finding* is what the
//! examiner reports for it; a *history* is one rival story of how the piece came to be as it
//! stands; an *incident* is an honest event of a long life; a *pack* holds the numbers for a form.

mod answer;
pub mod argument;
pub mod ask;
mod assess;
pub mod assessment;
pub mod case;
mod coalition;
pub mod decide;
pub mod density;
pub mod draw;
pub mod elicit;
mod error;
mod evidence;
pub mod examination;
mod export;
mod fit;
pub mod form;
pub mod form_page;
mod formula;
mod inquiry;
mod lean;
pub mod leaning;
pub mod lint;
mod look;
mod model;
mod new_case;
mod order;
pub mod outlook;
pub mod pack;
pub mod packs;
pub mod pool;
pub mod practice;
pub mod predict;
pub mod prior;
pub mod report;
mod rough;
pub mod scale;
mod schema;
pub mod shapley;
mod simulate;
pub mod sobol;
mod spread;
pub mod study;
mod text;
mod weigh;
pub mod wood;
mod workings;

pub use assess::{LIMITS, assess};
pub use assessment::Assessment;
pub use case::Case;
pub use error::{Error, Problem};
pub use export::{Export, export};
pub use inquiry::Inquiry;
pub use lean::{LeanOptions, lean};
pub use look::{NextOptions, check_outlooks, look_next};
pub use model::{Leaf, Model};
pub use new_case::new_case;
pub use pack::{Pack, Verdict};
pub use schema::{Schema, schema};
pub use simulate::Piece;
pub use text::{MAX_TEXT_BYTES, Text};
pub use weigh::explain;

/// Runs the examples of the project's front page.
#[cfg(doctest)]
#[doc = include_str!("../../../README.md")]
#[derive(Debug)]
pub struct FrontPage;
