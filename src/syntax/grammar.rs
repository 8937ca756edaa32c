//! The grammar of `grammar/detail.pest`, with its errors translated into places in the text and plain words.

use std::num::NonZeroUsize;
use std::sync::{Mutex, Once, PoisonError};

use pest::Parser;
use pest::iterators::Pair;

#[derive(pest_derive::Parser)]
#[grammar = "../grammar/detail.pest"]
struct DetailParser;

/// Where a rule stopped (bytes from the start of its text), and what it expected there.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Stopped {
    pub at: usize,
    pub expected: Vec<String>,
}

/// Means a quantity in the list of what is expected; code that knows the place says which kind.
pub const A_QUANTITY: &str = "a quantity";

/// Bytes of the longest statement that is read. A long one has some hundreds; a megabyte of words is not a statement.
pub const LONGEST: usize = 64 * 1024;

/// Steps that pest may take for one statement. A normal one takes some hundreds, and a hostile one must not hang the run.
const MOST_STEPS: usize = 4_000_000;

/// Reads as much of a text as the rule accepts.
pub fn read(rule: Rule, text: &str) -> Option<Pair<'_, Rule>> {
    static LIMIT: Once = Once::new();
    LIMIT.call_once(|| pest::set_call_limit(NonZeroUsize::new(MOST_STEPS)));
    if text.len() > LONGEST { None } else { DetailParser::parse(rule, text).ok()?.next() }
}

/// How far a rule comes in a text that it refuses.
pub fn stopped(rule: Rule, text: &str) -> Stopped {
    let stopped = noted(rule, text);
    if stopped.at < text.len() {
        return stopped;
    }
    // At the end of a line, more letters of the last word would be accepted as well. What is missing is what would come after
    // that word.
    let longer = noted(rule, &format!("{text} \0"));
    Stopped { at: text.len(), expected: if longer.at > text.len() { longer.expected } else { Vec::new() } }
}

/// Reads a text once more and records what the grammar tried. Recording slows down every thread, so it is on for this reading
/// only.
fn noted(rule: Rule, text: &str) -> Stopped {
    static NOTING: Mutex<()> = Mutex::new(());
    let result = {
        let _alone = NOTING.lock().unwrap_or_else(PoisonError::into_inner);
        pest::set_error_detail(true);
        let result = DetailParser::parse(rule, text);
        pest::set_error_detail(false);
        result
    };
    let attempts = match result {
        Err(error) => error.parse_attempts(),
        Ok(_) => None,
    };
    let Some(attempts) = attempts else { return Stopped::default() };
    let rules = attempts
        .call_stacks()
        .into_iter()
        .filter_map(|stack| stack.deepest.get_rule().copied().and_then(words).or_else(|| stack.parent.and_then(words)));
    let mut expected: Vec<String> = rules.map(str::to_owned).collect();
    let tokens = attempts.expected_tokens().into_iter().map(|token| token.to_string());
    expected.extend(tokens.filter(|token| keyword(token)).map(|token| format!("`{token}`")));
    expected.dedup();
    Stopped { at: attempts.max_position, expected }
}

/// Whether a token is a word of the language and not a mark or a unit.
fn keyword(token: &str) -> bool {
    token.len() > 1
        && token.bytes().all(|byte| byte.is_ascii_lowercase())
        && !matches!(token, "ft" | "in" | "mm" | "cm" | "per")
}

/// Whether a whole text is well formed.
#[cfg_attr(sealed, expect(dead_code, reason = "tests hold the statements against the whole grammar"))]
pub fn accepts_file(text: &str) -> bool {
    DetailParser::parse(Rule::file, text.trim_start_matches("\u{FEFF}")).is_ok()
}

/// What a rule is in plain words, for rules whose absence can be the mistake. Rules that begin with a keyword are named by
/// their shape.
fn words(rule: Rule) -> Option<&'static str> {
    match rule {
        Rule::name => Some("a name"),
        Rule::material => Some("the name of a material"),
        Rule::kind => Some("the kind of the detail"),
        Rule::zone => Some("a climate zone such as `6A`"),
        Rule::text => Some("text in quotes"),
        Rule::date => Some("a date such as `2027-03-31`"),
        Rule::class => Some("a humidity class from 1 to 5"),
        Rule::quantity | Rule::low | Rule::high => Some(A_QUANTITY),
        _ => None,
    }
}
