//! Rules as data: rule files read and checked through one door, then held against facts.

mod adjust;
mod assumed;
mod constant;
mod edition;
mod examples;
mod expression;
mod fields;
mod file;
mod gather;
mod judge;
mod message;
mod pack;
mod problem;
mod quoted;
mod reader;
mod rule;
mod table;
mod template;
mod waive;

pub use adjust::{Adjustment, read_adjustments};
pub use assumed::{ASSUMED, AssumedTable};
pub use constant::Constant;
pub use edition::{Edition, edition, editions, prints};
pub use examples::{Tested, test, test_rule, whole_text};
pub use expression::Literal;
pub use fields::{FieldLine, fields_of};
pub use file::{Example, RULE_KEYS};
pub use gather::{gather, keep_causes};
pub use judge::{judge, looking_at};
pub use message::Message;
pub use pack::{Pack, stock_sources};
pub use quoted::Quoted;
pub use rule::Rule;
pub use table::{Column, Row, Table};
pub use waive::{Outcome, waive};
