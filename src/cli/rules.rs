//! `headlap rules`: the rules themselves.

use std::path::PathBuf;
use std::process::ExitCode;
use std::sync::Arc;

use crate::cli::args::{Page, RuleSet, Rules, RulesAction};
use crate::cli::failure::Failure;
use crate::cli::task::today;
use crate::cli::{Done, Message, book, print};
use crate::facts::vocabulary::Kind;
use crate::finding::{PAGES, page};
use crate::mend;
use crate::output;
use crate::project;
use crate::report::Report;
use crate::review;
use crate::rules::{self, Pack, Rule};
use crate::text::nearest;

pub fn run(rules: Rules, typed: &Page) -> Done {
    let look = print::page(typed);
    match rules.action {
        RulesAction::List { set, format } => {
            let pack = load(&set)?;
            print::out(|out| match format.as_str() {
                "json" => output::rules_json(&pack, out),
                _ => output::rule_list(&pack, look, out),
            })?;
        }
        RulesAction::Show { rule, set } => return show(&rule, &set, typed),
        RulesAction::Test { paths } => return test(paths, typed),
        RulesAction::Book { set, out } => book::run(&*load(&set)?, out.as_deref())?,
        RulesAction::Fields { kind, set } => {
            let pack = load(&set)?;
            let words = Kind::ALL.map(Kind::word);
            let named = kind.iter().map(|word| {
                let all = format!("the kinds are {}", words.join(", "));
                let near = nearest(word, words);
                Kind::from_word(word)
                    .ok_or_else(|| Failure::from(Message::NoSuch { what: "kind of thing", word, near, all: &all }))
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

/// A rule, or the page of a finding that comes from no rule.
pub fn show(id: &str, set: &RuleSet, typed: &Page) -> Done {
    let (pack, look) = (load(set)?, print::page(typed));
    if let Some(found) = pack.rule(id) {
        print::out(|out| output::rule_page(&pack, found, look, out))?;
    } else if let Some(page) = page(id) {
        print::out(|out| output::text_page(page, look, out))?;
    } else {
        let ids = pack.rules.iter().map(|rule| &*rule.id).chain(PAGES.iter().map(|page| page.id));
        let all = elsewhere(&pack, id);
        return Err(Message::NoSuch { what: "rule", word: id, near: nearest(id, ids), all: &all }.into());
    }
    Ok(ExitCode::SUCCESS)
}

/// Where to look for the rules that somebody means by a word: some whose ids or titles have it, and the list of all.
fn elsewhere(pack: &Pack, word: &str) -> String {
    const SOME: usize = 6;
    let word = word.to_lowercase();
    let has = |rule: &&Rule| rule.id.contains(&word) || rule.title.to_lowercase().contains(&word);
    let ids: Vec<&str> = pack.rules.iter().filter(has).map(|rule| &*rule.id).collect();
    if ids.is_empty() || word.len() < 3 {
        return ALL_RULES.to_owned();
    }
    format!("about {word} there are {}; {ALL_RULES}", ids[..ids.len().min(SOME)].join(", "))
}

const ALL_RULES: &str = "`headlap rules list` lists them all";

/// Exits with 1 when an example does not do what it says.
fn test(paths: Vec<PathBuf>, page: &Page) -> Done {
    let pack = load(&RuleSet { rules: paths.clone() })?;
    // Named rules are meant alone; the built-in ones are there to be reviewed with.
    let named = |rule: &Rule| paths.is_empty() || pack.firm.contains(&rule.span.file);
    let today = today();
    let review = |text: &str| review::review_text(&pack, text, today);
    let tested: Vec<_> =
        pack.rules.iter().filter(|rule| named(rule)).map(|rule| rules::test_rule(&pack, rule, &review)).collect();
    let failed = tested.iter().filter(|tested| !tested.problems.is_empty()).count();
    let examples: usize = tested.iter().map(|tested| tested.fails + tested.passes).sum();
    let cures: usize = tested.iter().map(|tested| tested.cures).sum();
    let reviewed = |pack: &Pack, text: &str| review::review_text(pack, text, today);
    let mut unused = mend::unknown_edits(&pack);
    unused.extend(
        pack.rules.iter().filter(|rule| named(rule)).flat_map(|rule| rules::idle_exceptions(&pack, rule, &reviewed)),
    );
    let wrong = failed > 0 || !unused.is_empty();
    let findings: Vec<_> = tested.into_iter().flat_map(|tested| tested.problems).chain(unused).collect();
    let report = Report { findings, sources: pack.sources().clone(), files: 0, ..Report::default() };
    let count = pack.rules.iter().filter(|rule| named(rule)).count();
    print::out(|out| {
        if !report.findings.is_empty() {
            output::findings(&report, print::page(page), out)?;
        }
        writeln!(out, "{}", Message::RulesTested { rules: count, examples, cures, failed }.words())
    })?;
    Ok(ExitCode::from(u8::from(wrong)))
}

/// The built-in rules with those of the project around the working folder, or with the files that were named.
fn load(set: &RuleSet) -> Result<Arc<Pack>, Failure> {
    let working = project::working()?;
    if set.rules.is_empty() {
        return Ok(project::open(&working, &working)?.pack);
    }
    let mut files = Vec::new();
    for path in &set.rules {
        let found = project::rule_files(&project::plain(path, &working));
        files.extend(found.map_err(|why| Failure::from(Message::Unreadable { path, why: &why.words() }))?);
    }
    Ok(Arc::new(project::rules(&files, &working)?))
}
