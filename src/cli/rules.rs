//! `headlap rules`: the rules themselves.

use std::process::ExitCode;

use crate::cli::args::{Page, RuleSet, Rules, RulesAction};
use crate::cli::{Done, print};
use crate::facts::vocabulary::Kind;
use crate::output;
use crate::project;
use crate::rules::Pack;
use crate::text::nearest;

pub fn run(rules: Rules, page: &Page) -> Done {
    let look = print::page(page);
    match rules.action {
        RulesAction::List(set) => {
            let pack = load(&set)?;
            print::out(|out| output::rule_list(&pack, look, out))?;
        }
        RulesAction::Show { rule, set } => {
            let pack = load(&set)?;
            let found = pack.rule(&rule).ok_or_else(|| {
                unknown("rule", &rule, pack.rules.iter().map(|rule| &*rule.id), "`headlap rules list` lists them all")
            })?;
            print::out(|out| output::rule_page(&pack, found, look, out))?;
        }
        RulesAction::Fields { kind, set } => {
            let pack = load(&set)?;
            let words = Kind::ALL.map(Kind::word);
            let named = kind.iter().map(|word| {
                let all = format!("the kinds are {}", words.join(", "));
                Kind::from_word(word).ok_or_else(|| unknown("kind of thing", word, words, &all))
            });
            let mut kinds = named.collect::<Result<Vec<_>, _>>()?;
            if kinds.is_empty() {
                kinds = Kind::ALL.to_vec();
            }
            print::out(|out| output::field_list(&pack, &kinds, look, out))?;
        }
    }
    Ok(ExitCode::SUCCESS)
}

/// The built-in rules with those of the project around the working folder, or with the files that were named.
fn load(set: &RuleSet) -> Result<Pack, crate::cli::failure::Failure> {
    let working = project::working()?;
    if set.rules.is_empty() {
        return Ok(project::open(&working, &working)?.pack);
    }
    let mut files = Vec::new();
    for path in &set.rules {
        let found = project::rule_files(&project::plain(path, &working));
        files.extend(found.map_err(|why| format!("{}: {why}", path.display()))?);
    }
    Ok(project::rules(&files, &working)?)
}

/// `there is no rule "shrt-head-lap"; did you mean "short-head-lap"?`
fn unknown<'a>(what: &str, word: &str, known: impl IntoIterator<Item = &'a str>, or: &str) -> String {
    match nearest(word, known) {
        Some(near) => format!("there is no {what} \"{word}\"; did you mean \"{near}\"?"),
        None => format!("there is no {what} \"{word}\"; {or}"),
    }
}
