//! `docs-url`: findings link to the page on their rule, and `headlap rules book` writes that page.

use std::fs;

use serde_json::Value;

use crate::command::{run, scratch, write};

const TEXT: &str = "include \"stock.detail\"
assembly W wall { outside; layer wrap-open controls water, air; layer plywood 12 mm; inside }
detail A course joins W {
  piece deck  plywood   of W
  piece upper wrap-open of W  up from 0 mm
  piece lower wrap-open of W  up to 120 mm
  nonsense
}
";

fn addresses(log: &str) -> Vec<(String, Option<String>)> {
    let log: Value = serde_json::from_str(log).expect("SARIF is JSON");
    let rules = log["runs"][0]["tool"]["driver"]["rules"].as_array().expect("rules").clone();
    let text = |value: &Value| value.as_str().map(str::to_owned);
    rules.iter().map(|rule| (text(&rule["id"]).expect("an id"), text(&rule["helpUri"]))).collect()
}

#[test]
fn findings_link_to_the_page_on_their_rule() {
    let folder = scratch("docs-url/links");
    write(&folder, "a.detail", TEXT);
    let sarif = ["review", "a.detail", "--format", "sarif"];
    assert!(addresses(&run(&folder, &sarif).1).iter().all(|(_, page)| page.is_none()), "no settings, no link");
    write(&folder, "headlap.toml", "docs-url = \"https://example.org/details/\"\n");
    let found = addresses(&run(&folder, &sarif).1);
    let page = |id: &str| found.iter().find(|(rule, _)| rule == id).and_then(|(_, page)| page.clone());
    assert_eq!(
        page("reverse-lap").as_deref(),
        Some("https://example.org/details/rules/drainage.html#reverse-lap"),
        "{found:?}"
    );
    assert_eq!(page("syntax").as_deref(), Some("https://example.org/details/rules/text.html#syntax"));
    let link = "\x1b]8;;https://example.org/details/rules/drainage.html#reverse-lap\x1b\\reverse-lap\x1b]8;;\x1b\\";
    assert!(run(&folder, &["review", "a.detail", "--color", "always"]).1.contains(link));
    assert!(!run(&folder, &["review", "a.detail"]).1.contains("example.org"), "a file holds no link");
    let reported = run(&folder, &["review", "--explain-config", "a.detail"]).1;
    assert!(reported.lines().any(|line| line.contains("docs-url") && line.contains("headlap.toml:1")), "{reported}");
}

/// What is set goes into a terminal as it is.
#[test]
fn an_address_holds_nothing_that_a_terminal_acts_on() {
    let folder = scratch("docs-url/hostile");
    write(&folder, "a.detail", TEXT);
    for wrong in ["\"javascript:alert(1)\"", "\"https://\"", "\"https://a b\"", "\"https://a\\u001b]0;x\"", "7"] {
        write(&folder, "headlap.toml", &format!("docs-url = {wrong}\n"));
        let (status, out, said) = run(&folder, &["review", "a.detail"]);
        assert_eq!((status, out.as_str()), (2, ""), "{wrong}");
        assert!(said.contains("`docs-url` has to be a web address") && !said.contains('\x1b'), "{wrong}: {said}");
    }
}

/// Every rule has a heading of its id on the page of its topic, with its basis, its examples and their drawings.
#[test]
fn the_book_has_a_page_for_each_topic_and_a_heading_for_each_rule() {
    let folder = scratch("docs-url/book");
    let (status, _, said) = run(&folder, &["rules", "book", "--out", "rules"]);
    assert_eq!((status, said.as_str()), (0, ""));
    let read = |name: &str| fs::read_to_string(folder.join("rules").join(name)).expect("it was written");
    let index = read("index.md");
    for (topic, rules) in headlap::output::by_topic(crate::review::pack()) {
        let page = read(&format!("{topic}.md"));
        for rule in rules {
            let part = page.split(&format!("\n## {}\n", rule.id)).nth(1).expect("a heading");
            let part = part.split("\n## ").next().expect("a part");
            assert!(index.contains(&format!("({topic}.md#{})", rule.id)), "{}", rule.id);
            for wanted in
                [&*format!("Level: {}.", rule.level.word()), "Basis:\n\n- ", "**Fails**", "**Passes**", "*To do:*"]
            {
                assert!(
                    part.contains(wanted) || (wanted == "*To do:*" && rule.wording().fix.is_none()),
                    "{}: {wanted}",
                    rule.id
                );
            }
            for picture in part.split("](pictures/").skip(1).filter_map(|rest| rest.split(')').next()) {
                assert!(read(&format!("pictures/{picture}")).contains("<svg"), "{picture}");
            }
        }
    }
    let laps = read("laps.md");
    assert!(laps.contains("](pictures/short-head-lap-fails.svg)"), "examples that are details are drawn");
    assert!(read("text.md").contains("\n## syntax\n"));
    let sources = read("sources.md");
    let link = "[reverse-lap](drainage.md#reverse-lap)";
    assert!(
        sources.lines().any(|line| line.starts_with("| IRC 2015 | R703.4 | read |") && line.contains(link)),
        "{sources}"
    );
    let words = read("words.md");
    assert!(words.contains("| `valley` | Valley of a roof |") && words.contains("`kick-out`"), "{words}");
    assert!(read("fields.md").contains("\n## lap\n"));
}

/// A firm's rules are a topic of their own. Without a folder all pages come one after the other, and nothing is drawn.
#[test]
fn a_firm_has_its_own_rules_in_the_book() {
    let folder = scratch("docs-url/firm");
    let page = include_str!("../../docs/src/rules-of-your-own.md");
    let rule = page.split("```toml,rule\n").nth(1).and_then(|rest| rest.split("```").next()).expect("a rule");
    write(&folder, "firm-rules/wide-tape.toml", rule);
    write(&folder, "headlap.toml", "rules = [\"firm-rules\"]\n");
    let (status, book, said) = run(&folder, &["rules", "book"]);
    assert_eq!((status, said.as_str()), (0, ""));
    let own = book.split("\n# Firm rules\n").nth(1).and_then(|rest| rest.split("\n# ").next()).expect("a topic");
    assert!(own.contains("\n## wide-tape\n") && own.contains("| `limit` | `40 mm` |"), "{own}");
    assert!(book.contains("\n## reverse-lap\n") && book.contains("\n## syntax\n") && !book.contains("](pictures/"));
}
