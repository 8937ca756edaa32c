//! A rule-based checker of wall and interface details written as plain text.
//!
//! A [`Checker`] holds rules. It reviews [`Texts`] and gives a [`Review`]: the [`Report`] with each [`Finding`] at its
//! place, and every detail and assembly as an [`Item`] with its facts and its [`Drawing`]s. No file is read and nothing
//! is asked of the system, so the same texts on the same day give the same review.
//!
//! ```
//! use headlap::{Checker, Date, Texts};
//!
//! let mut texts = Texts::new();
//! texts.add(
//!     "base.detail",
//!     r#"
//! include "stock.detail"
//! assembly W1 wall {
//!   layer gypsum-board 12.7 mm
//! }
//! "#,
//! );
//! let checker = Checker::stock();
//! let review = checker.review(&texts, texts.names(), Date::constant(2026, 5, 4));
//! for finding in &review.report().findings {
//!     println!("{}: {}", finding.level.word(), finding.message);
//! }
//! for item in review.items() {
//!     println!("{} has {} drawings", item.name(), item.drawings().len());
//! }
//! ```
//!
//! With the feature `cli`, which is on by default, the package is also the program. Without it, it builds for
//! `wasm32-unknown-unknown`.
//!
//! The modules that the program is made of can be reached by its tests and fuzz targets. They are not shown here, and
//! change without notice.

#![forbid(unsafe_code)]

// Text goes in at the top of this list and findings come out at the bottom; nothing flows back.

mod threads;

pub mod text;

#[doc(hidden)]
pub mod quantity;

pub mod finding;

#[doc(hidden)]
pub mod syntax;

#[doc(hidden)]
pub mod tidy;

#[doc(hidden)]
pub mod physics;

#[doc(hidden)]
pub mod model;

#[doc(hidden)]
pub mod facts;

#[doc(hidden)]
pub mod rules;

pub mod report;

#[doc(hidden)]
pub mod compare;

#[doc(hidden)]
pub mod review;

#[doc(hidden)]
pub mod mend;

#[doc(hidden)]
pub mod settings;

#[doc(hidden)]
#[cfg(feature = "cli")]
pub mod project;

#[doc(hidden)]
pub mod output;

#[doc(hidden)]
pub mod about;

mod checker;

#[doc(hidden)]
#[cfg(feature = "cli")]
pub mod server;

#[doc(hidden)]
#[cfg(feature = "cli")]
pub mod cli;

pub use crate::checker::{Checker, Cure, Drawing, Item, ItemKind, Review, Texts};
pub use crate::finding::{Basis, Edit, Finding, Known, Level, Related, Step, Waived};
pub use crate::report::{Off, Proved, Report, Summary};
pub use crate::text::{FileId, Position, Source, Span};
pub use crate::tidy::tidy;
pub use jiff::civil::Date;
