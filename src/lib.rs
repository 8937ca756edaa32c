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
//! Tests, benchmarks and fuzz targets can reach most modules that the program is made of. They are not shown here, and
//! change without notice. Compiled with `--cfg sealed` nobody can, so that the compiler finds what nothing uses any more.

#![forbid(unsafe_code)]

// Text goes in at the top of this list and findings come out at the bottom; nothing flows back.

mod threads;

#[cfg(not(sealed))]
#[doc(hidden)]
pub mod text;
#[cfg(sealed)]
mod text;

#[cfg(not(sealed))]
#[doc(hidden)]
pub mod quantity;
#[cfg(sealed)]
mod quantity;

#[cfg(not(sealed))]
#[doc(hidden)]
pub mod finding;
#[cfg(sealed)]
mod finding;

#[cfg(not(sealed))]
#[doc(hidden)]
pub mod syntax;
#[cfg(sealed)]
mod syntax;

#[cfg(not(sealed))]
#[doc(hidden)]
pub mod tidy;
#[cfg(sealed)]
mod tidy;

#[cfg(not(sealed))]
#[doc(hidden)]
pub mod physics;
#[cfg(sealed)]
mod physics;

#[cfg(not(sealed))]
#[doc(hidden)]
pub mod model;
#[cfg(sealed)]
mod model;

#[cfg(not(sealed))]
#[doc(hidden)]
pub mod facts;
#[cfg(sealed)]
mod facts;

#[cfg(not(sealed))]
#[doc(hidden)]
pub mod rules;
#[cfg(sealed)]
mod rules;

#[cfg(not(sealed))]
#[doc(hidden)]
pub mod report;
#[cfg(sealed)]
mod report;

#[cfg(not(sealed))]
#[doc(hidden)]
pub mod compare;
#[cfg(sealed)]
mod compare;

#[cfg(not(sealed))]
#[doc(hidden)]
pub mod review;
#[cfg(sealed)]
mod review;

#[cfg(not(sealed))]
#[doc(hidden)]
pub mod mend;
#[cfg(sealed)]
mod mend;

#[cfg(not(sealed))]
#[doc(hidden)]
pub mod settings;
#[cfg(sealed)]
mod settings;

#[cfg(all(feature = "cli", not(sealed)))]
#[doc(hidden)]
pub mod project;
#[cfg(all(feature = "cli", sealed))]
mod project;

#[cfg(not(sealed))]
#[doc(hidden)]
pub mod output;
#[cfg(sealed)]
mod output;

#[cfg(not(sealed))]
#[doc(hidden)]
pub mod about;
#[cfg(sealed)]
mod about;

mod checker;

#[doc(hidden)]
#[cfg(feature = "cli")]
pub mod server;

#[cfg(all(feature = "cli", not(sealed)))]
#[doc(hidden)]
pub mod cli;
#[cfg(all(feature = "cli", sealed))]
mod cli;

#[doc(hidden)]
#[cfg(feature = "cli")]
pub use crate::cli::main;

pub use crate::checker::{Checker, Cure, Drawing, Item, ItemKind, Review, Texts};
pub use crate::finding::{Basis, Edit, Finding, Known, Level, Related, Said, Step, Waived};
pub use crate::report::{Off, Proved, Report, Summary};
pub use crate::text::{FileId, Position, Source, Span};
pub use crate::tidy::tidy;
pub use jiff::civil::Date;
