//! What a rule lets pass: `[[rule.except]]`.

use std::sync::Arc;

use headlap::finding::Finding;
use headlap::rules::{Pack, idle_exceptions};
use headlap::text::{FileId, Source};

use crate::review::{pack, review_with};

/// Sheets and tapes have to be thick, but for those that are thin by nature.
fn rule(exceptions: &str) -> String {
    format!(
        "[[rule]]\nid = 'thin'\ntitle = 'Thin'\nlevel = 'note'\nabout = 'material'\nwhen = 'kind in [sheet, tape]'\n\
         needs = 'thickness >= least'\nleast = '1 mm'\nsays = '{{material}} is thin'\n{exceptions}"
    )
}

const TAPES: &str = "\n[[rule.except]]\nwhen = 'kind == tape'\nbecause = 'tapes are'\n";

fn source(text: &str) -> Arc<Source> {
    Arc::new(Source::new(FileId::detail(900), "firm/thin.toml", text))
}

fn problems(exceptions: &str) -> Vec<(String, String)> {
    let source = source(&rule(exceptions));
    let found = Pack::load(std::slice::from_ref(&source)).err().unwrap_or_default();
    found.into_iter().map(|finding| (finding.message.clone(), source.at(finding.span).to_owned())).collect()
}

fn material(name: &str, kind: &str) -> String {
    format!("material {name} {kind} {{ holds water; thickness 0.2 mm; permeance 1 perm }}\n")
}

#[test]
fn a_thing_that_is_excepted_passes() {
    let text = material("skin", "sheet") + &material("band", "tape");
    let thin = |exceptions: &str| -> Vec<String> {
        let pack = Pack::load(&[source(&rule(exceptions))]).unwrap_or_else(|found| panic!("{found:?}"));
        let found = review_with(&pack, &[("a.detail", &text)]).findings;
        found.into_iter().filter(|finding| &*finding.rule == "thin").map(|finding| finding.message.clone()).collect()
    };
    assert_eq!(thin(""), ["`skin` is thin", "`band` is thin"]);
    assert_eq!(thin(TAPES), ["`skin` is thin"]);
    let both = format!("{TAPES}\n[[rule.except]]\nwhen = 'kind == sheet or least < 0 mm'\nbecause = 'sheets are'\n");
    assert_eq!(thin(&both), [""; 0], "each stands for itself");
}

#[test]
fn an_exception_is_read_as_strictly_as_the_rule() {
    let except = |keys: &str| problems(&format!("\n[[rule.except]]\n{keys}\n"));
    let one = |message: &str, at: &str| vec![(message.to_owned(), at.to_owned())];
    let unknown = except("when = 'kind == tape and nowhere'\nbecause = 'x'");
    assert_eq!(unknown.iter().map(|(_, at)| at.as_str()).collect::<Vec<_>>(), ["nowhere"]);
    assert_eq!(
        except("when = 'kind = tape'\nbecause = 'x'").iter().map(|(_, at)| at.as_str()).collect::<Vec<_>>(),
        ["="]
    );
    assert_eq!(except("when = 'kind == tape'")[0].0, "an exception needs the key `because`");
    assert_eq!(except("because = 'x'")[0].0, "an exception needs the key `when`");
    assert_eq!(except("when = 'thickness'\nbecause = 'x'").len(), 1, "a thickness is no condition");
    let stray = except("when = 'kind == tape'\nbecause = 'x'\nwhy = 'y'");
    assert_eq!(stray.iter().map(|(_, at)| at.as_str()).collect::<Vec<_>>(), ["why"]);
    assert_eq!(problems(TAPES), one("", "")[..0]);
}

#[test]
fn an_exception_that_no_example_needs_is_reported() {
    let example = |key: &str, kind: &str| format!("\n[[rule.example]]\n{key} = '''\n{}'''\n", material("skin", kind));
    let sheets = "\n[[rule.except]]\nwhen = 'kind == sheet and least < 0 mm'\nbecause = 'never'\n";
    let idle = |exceptions: &str| -> Vec<String> {
        let text = rule(exceptions) + &example("fails", "sheet") + &example("passes", "tape");
        let source = source(&text);
        let pack = Pack::load(std::slice::from_ref(&source)).unwrap_or_else(|found| panic!("{found:?}"));
        let review = |pack: &Pack, text: &str| review_with(pack, &[("a.detail", text)]).findings;
        let idle: Vec<Finding> = idle_exceptions(&pack, pack.rule("thin").expect("it is there"), &review);
        idle.into_iter().map(|finding| source.at(finding.span).to_owned()).collect()
    };
    assert_eq!(idle(TAPES), [""; 0]);
    assert_eq!(idle(&format!("{TAPES}{sheets}")), ["'kind == sheet and least < 0 mm'"]);
}

#[test]
fn examples_need_every_exception_of_the_stock_rules() {
    let review = |pack: &Pack, text: &str| review_with(pack, &[("a.detail", text)]).findings;
    let excepting = pack().rules.iter().filter(|rule| !pack().exceptions(rule).is_empty());
    let idle = excepting.flat_map(|rule| {
        let exceptions = pack().exceptions(rule);
        let when = move |at| exceptions.iter().find(|e| e.when.whole == at).map(|e| e.when.text.to_string());
        idle_exceptions(pack(), rule, &review).into_iter().map(move |finding| (rule.id.clone(), when(finding.span)))
    });
    assert_eq!(idle.collect::<Vec<_>>(), []);
}
