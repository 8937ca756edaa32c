//! Rules as data: rule files are read and checked, then evaluated on facts.

mod adjust;
mod assumed;
mod compile;
mod constant;
mod edition;
mod examples;
mod expression;
mod fields;
mod group_by_cause;
mod judge;
mod merge;
mod message;
mod pack;
mod place;
mod rule;
mod sieve;
mod stock;
mod table;
mod template;
mod waive;
mod written;

pub use adjust::{Adjustment, read_adjustments};
pub use assumed::AssumedTable;
pub use constant::Constant;
pub use edition::{Edition, edition, editions, prints};
pub use examples::{Tested, idle_exceptions, test_rule, whole_text};
pub use expression::Message as ExpressionMessage;
pub use expression::{ExprType, Verb, WordsOf};
pub use fields::{FieldLine, fields_of};
pub use group_by_cause::{group_by_cause, leave_out_consequences};
pub use judge::{judge, looking_at};
pub use message::{Expected, Message};
pub use pack::{Pack, stock_sources};
pub use rule::Rule;
pub use table::{Table, TableColumn, TableRow};
pub use waive::{WaiverOutcome, waive};
pub use written::Message as WrittenMessage;
pub use written::{
    ASSUMED, Comparison, Example, Exception, Literal, Operation, Quoted, RULE_KEYS, RawFile, TomlReader, prepare,
    read_table, read_without_examples,
};
