//! What is said of the role of a piece.

use headlap::{Checker, Date, Texts};

use crate::review::pack;

/// What is said where a piece has this role.
fn reported(role: &str) -> String {
    let head = "include \"stock.detail\"\nassembly W wall {\n  layer plywood 12 mm\n}\n";
    let text = format!("{head}detail A course joins W {{\n  piece p wrap-open of W as {role}\n}}\n");
    let at = text.find(" as ").expect("a role") + " as ".len();
    let mut texts = Texts::new();
    texts.add("a.detail", text);
    let checker = Checker::stock();
    let review = checker.review(&texts, ["a.detail"], Date::constant(2026, 5, 4));
    checker.about(&texts, &review, "a.detail", at).expect("a role").0
}

#[test]
fn each_stock_role_has_a_meaning() {
    for role in &pack().words.roles {
        let said = reported(role);
        assert!(said.starts_with(&format!("**role** `{role}`: this piece ")), "{said}");
    }
    assert_eq!(reported("own-word"), "**role** `own-word`");
}

#[test]
fn a_role_says_which_rules_ask_for_it() {
    let pan = reported("pan");
    assert!(pan.contains("Counts as a flashing") && pan.contains("Rules that ask for it:"), "{pan}");
    // As one word, as one of several, and in a list that the rule names.
    for (rule, role) in [("missing-kick-out", "kick-out"), ("narrow-bond", "end-dam"), ("open-joint", "end-dam")] {
        assert!(pack().rule(rule).expect("a rule").compares("role", role), "{rule} asks for {role}");
    }
    assert!(!pack().rule("missing-kick-out").expect("a rule").compares("role", "weep"));
}
