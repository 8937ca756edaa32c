//! What people and programs get to see: one file for each form, each a function of the same report.
//!
//! No form drops, adds or re-ranks a finding.

pub mod book;
mod catalog;
mod caution;
mod climate;
pub mod compare;
pub mod drawing;
mod escaped;
mod exceptions;
#[cfg(feature = "cli")]
mod excerpt;
pub mod facts;
pub mod html;
mod json;
mod json_schema;
mod junit;
mod lines;
mod look;
mod manual;
mod materials;
#[cfg(feature = "cli")]
mod narrated;
mod part;
mod place;
mod sarif;
mod schema;
pub mod sequence;
pub mod sheet;
mod statistics;
#[cfg(feature = "cli")]
mod text;
mod unbroken;
mod visible;
pub mod words;
mod wrap;

pub use catalog::{materials_json, rules_json};
pub use caution::CAUTION;
pub use climate::climate;
pub use exceptions::{AdjustmentLine, Exceptions, KnownLine, WaiverLine, exceptions, exceptions_json};
pub use json::{json, jsonl};
pub use json_schema::output_schema;
pub use junit::{junit, junit_of_failure};
pub use lines::lines;
pub use look::Look;
pub use manual::{by_topic, field_list, rule_list, rule_page, text_page};
pub use materials::{material_list, named_with};
pub use part::columns;
pub use sarif::{is_sarif_of_ours, sarif, sarif_of_failure};
pub use schema::{rule_schema, settings_schema};
pub use statistics::statistics;
#[cfg(feature = "cli")]
pub use text::{findings, text};
pub use visible::visible;
