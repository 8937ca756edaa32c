//! The grammar of `grammar/detail.pest`, and its errors turned into places and words that people know.

use std::num::NonZeroUsize;
use std::sync::Once;

use pest::Parser;
use pest::error::{ErrorVariant, InputLocation};
use pest::iterators::Pair;

#[derive(pest_derive::Parser)]
#[grammar = "../grammar/detail.pest"]
struct DetailParser;

/// Where a rule stopped (bytes from the start of its text), and what would have gone on there.
#[derive(Clone, Debug, PartialEq)]
pub struct Stopped {
    pub at: usize,
    pub expected: Vec<&'static str>,
}

/// Steps that pest may take for one line. An honest line takes some hundreds; a hostile one must not hang the run.
const MOST_STEPS: usize = 2_000_000;

/// Reads as much of a text as the rule accepts.
pub fn read(rule: Rule, text: &str) -> Result<Pair<'_, Rule>, Stopped> {
    static LIMIT: Once = Once::new();
    LIMIT.call_once(|| pest::set_call_limit(NonZeroUsize::new(MOST_STEPS)));
    match DetailParser::parse(rule, text) {
        Ok(mut pairs) => pairs.next().ok_or(Stopped { at: 0, expected: Vec::new() }),
        Err(error) => {
            let at = match error.location {
                InputLocation::Pos(at) | InputLocation::Span((at, _)) => at,
            };
            let mut expected: Vec<&'static str> = match error.variant {
                ErrorVariant::ParsingError { positives, .. } => positives.iter().filter_map(|r| words(*r)).collect(),
                ErrorVariant::CustomError { .. } => Vec::new(),
            };
            expected.dedup();
            Err(Stopped { at, expected })
        }
    }
}

/// Whether a whole text is well formed.
pub fn accepts_file(text: &str) -> bool {
    DetailParser::parse(Rule::file, text.trim_start_matches("\u{FEFF}")).is_ok()
}

/// What a rule stands for, where its absence can be the mistake. Rules that begin with a keyword are told by their shape.
fn words(rule: Rule) -> Option<&'static str> {
    match rule {
        Rule::name => Some("a name"),
        Rule::material => Some("the name of a material"),
        Rule::kind => Some("the kind of the detail"),
        Rule::zone => Some("a climate zone such as `6A`"),
        Rule::text => Some("text in quotes"),
        Rule::date => Some("a date such as `2027-03-31`"),
        Rule::class => Some("a humidity class from 1 to 5"),
        Rule::quantity | Rule::low | Rule::high => Some("a quantity"),
        _ => None,
    }
}
