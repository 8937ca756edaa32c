//! A rule file as written, checked against nothing yet. The build script reads the stock rules with this same module, so that
//! the program parses neither TOML nor expressions when it starts. It uses text, quantities and findings alone.

mod allowed;
mod assumed;
mod ast;
mod constant;
mod exception;
mod file;
mod form;
mod guard;
mod message;
mod parse;
#[cfg_attr(sealed, expect(dead_code, reason = "the build script writes it"))]
mod prepared;
mod quoted;
mod raw_sieve;
mod reader;
mod rule_set;
mod sentence;
mod stored;
mod table;

use allowed::Allowed;
pub use assumed::{ASSUMED, RawAssumed};
pub use ast::{Comparison, Expr, Node, Operation, Word};
pub use constant::{Literal, RawConstant, read_literal};
pub use exception::Exception;
pub use file::{Example, RULE_KEYS, RawFile, RawKind, RawRule, read, read_without_examples};
pub use form::Written;
pub use guard::{NO, YES};
pub use message::{Message, suggest};
pub use parse::parse;
pub use prepared::{Prepared, RawRequirement, RawWording, RuleHead, is_stock, prepare, read as read_prepared};
pub use quoted::Quoted;
pub use raw_sieve::{RawSubject, sieve};
pub use reader::{TomlReader, read_table};
pub use rule_set::RuleSet;
pub use sentence::{SentencePart, read_sentence};
pub use table::{RawRow, RawTable};
