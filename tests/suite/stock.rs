//! The rules that are built in: they load, their ids and levels are what the manual promises, and each carries its reasons.

use headlap::facts::FileFacts;
use headlap::finding::{Finding, Level};
use headlap::quantity::Quantity;
use headlap::review::review_alone;
use headlap::rules::{Constant, Literal, Pack, Quoted, Rule, judge, test_rule, whole_text};

use crate::review::{TODAY, review_with};

fn stock() -> Pack {
    Pack::load(&[]).unwrap_or_else(|problems| {
        let reported: Vec<String> =
            problems.iter().map(|p| format!("{:?} {}: {}", p.span, p.rule, p.message)).collect();
        panic!("{}", reported.join("\n"))
    })
}

/// Ids that other files lean on: firms adjust them, details waive them. None may vanish or change its level.
const PROMISED: &[(&str, Level)] = &[
    ("reverse-lap", Level::Error),
    ("open-top-edge", Level::Warning),
    ("lap-relies-on-seal", Level::Warning),
    ("open-joint", Level::Error),
    ("open-gap", Level::Error),
    ("bare-substrate", Level::Error),
    ("trapped-water", Level::Error),
    ("head-lap-below-code", Level::Error),
    ("short-head-lap", Level::Warning),
    ("short-side-lap", Level::Error),
    ("short-flashing-lap", Level::Warning),
    ("corner-lap-short", Level::Error),
    ("unsealed-transition", Level::Error),
    ("broken-water-control", Level::Error),
    ("broken-vapor-control", Level::Warning),
    ("thermal-gap", Level::Note),
    ("control-not-shown", Level::Warning),
    ("control-undeclared", Level::Warning),
    ("claim-without-hold", Level::Error),
    ("unsealed-seam", Level::Error),
    ("unsealed-edge", Level::Error),
    ("bond-without-contact", Level::Error),
    ("narrow-bond", Level::Warning),
    ("incompatible-bond", Level::Error),
    ("needs-primer", Level::Warning),
    ("not-rolled", Level::Warning),
    ("cold-application", Level::Error),
    ("tape-over-fastener", Level::Error),
    ("flashing-over-fastener", Level::Warning),
    ("fastener-through-flashing", Level::Error),
    ("fastener-spacing", Level::Warning),
    ("uncapped-fastener", Level::Warning),
    ("impossible-stack", Level::Error),
    ("tuck-behind-fixed", Level::Error),
    ("uv-overrun", Level::Error),
    ("level-sill", Level::Error),
    ("missing-kick-out", Level::Error),
    ("missing-end-dam", Level::Warning),
    ("weep-spacing", Level::Error),
    ("missing-weeps", Level::Error),
    ("clearance-to-grade", Level::Error),
    ("ground-cover-thin", Level::Error),
    ("ground-cover-lap", Level::Error),
    ("ground-cover-turn-up", Level::Error),
    ("ground-cover-open", Level::Error),
    ("vapor-trap", Level::Error),
    ("outward-drying", Level::Warning),
    ("retarder-class", Level::Error),
    ("thin-insulation", Level::Error),
    ("condensation-accumulates", Level::Error),
    ("condensation-over-limit", Level::Warning),
    ("slow-drying", Level::Warning),
    ("mold-risk", Level::Warning),
    ("missing-detail", Level::Error),
    ("expired-waiver", Level::Error),
    ("idle-waiver", Level::Note),
];

#[test]
fn every_promised_rule_is_there_at_its_level() {
    let pack = stock();
    for (id, level) in PROMISED {
        let rule = pack.rule(id).unwrap_or_else(|| panic!("no rule {id}"));
        assert_eq!(rule.level, *level, "{id}");
    }
}

#[test]
fn every_rule_stands_in_a_file_of_its_name_with_reasons_and_examples() {
    let pack = stock();
    for rule in &pack.rules {
        let path = &pack.sources()[&rule.span.file].name;
        assert!(path.ends_with(&format!("/{}.toml", rule.id)), "{} stands in {path}", rule.id);
        assert!(!rule.wording().basis.is_empty(), "{} says no reason", rule.id);
        assert!(
            rule.wording().basis.iter().all(|b| b.says.is_some()),
            "{} names a source and not what it says",
            rule.id
        );
        assert!(rule.wording().fix.is_some(), "{} does not say what to do", rule.id);
        let examples = pack.examples(rule);
        assert!(examples.iter().any(|e| e.fails) && examples.iter().any(|e| !e.fails), "{}", rule.id);
        assert!(examples.iter().any(|e| e.cured.is_some()), "no example of {} shows the cure", rule.id);
    }
}

/// Limits without an example close by: advice, what counts as nothing, and what the worked examples of the physics settle.
const WITHOUT: &[(&str, &str)] = &[
    ("class-one-both-sides", "limit"),
    ("condensation-accumulates", "limit"),
    ("condensation-over-limit", "nothing"),
    ("thin-outer-insulation", "some"),
    ("design-condensate", "limit"),
    ("design-residue", "limit"),
    ("head-lap-below-code", "practice"),
    ("slow-drying", "limit"),
    // Held by tests/suite/code_tables.rs, or the same as in a rule that has such examples.
    ("batts-on-concrete", "shallow"),
    ("class-two-insulation", "shallow"),
    ("class-two-insulation", "tight"),
    ("condensation-accepted", "dwelling"),
    ("condensation-accepted", "limit"),
    ("condensation-accepted", "most"),
    ("condensation-accepted", "nothing"),
    ("condensation-accepted", "shallow"),
    ("condensation-accepted", "to-vent"),
    ("condensation-over-limit", "dwelling"),
    ("condensation-over-limit", "most"),
    ("humid-room", "cool"),
    ("inward-drive", "tight"),
    ("open-foam-roof", "vapor-open"),
    ("retarder-on-cold-side", "marine-cold"),
    ("retarder-on-cold-side", "shallow"),
    ("retarder-class", "shallow"),
    ("retarder-in-hot-zone", "responsive"),
    ("slow-drying", "cold"),
    ("slow-drying", "marine-cold"),
    ("slow-drying", "shallow"),
    ("unvented-roof", "vapor-open"),
    ("unvented-roof-retarder", "vapor-open"),
    ("thin-outer-insulation", "shallow"),
    ("thin-outer-insulation", "to-vent"),
    ("vapor-trap", "shallow"),
];

#[test]
fn every_limit_is_held_by_an_example_close_to_it() {
    let mut pack = stock();
    let mut loose = Vec::new();
    for at in 0..pack.rules.len() {
        let limits = limits(&pack.rules[at]);
        if limits.is_empty() {
            continue;
        }
        // The others say nothing about its limits, and take most of the time, as facts do, which no limit changes. Only what is
        // settled after rules have judged needs a whole review.
        judge_by(&mut pack, |number| number == at);
        let examples = examples(&pack, at);
        let unsettled = |pack: &Pack| examples.iter().any(|(fails, facts)| finds(pack, at, facts) != *fails);
        let alone = !unsettled(&pack);
        if !alone {
            judge_by(&mut pack, |_| true);
        }
        for (number, limit) in limits {
            let bites = [0.93, 1.07].into_iter().any(|factor| {
                let shifted = Quantity { si: limit.si * factor, ..limit };
                pack.rules[at].constants[number].value = Literal::Quantity(shifted);
                if alone { unsettled(&pack) } else { !problems(&pack, at).is_empty() }
            });
            pack.rules[at].constants[number].value = Literal::Quantity(limit);
            if !bites {
                loose.push(format!("{} {}", pack.rules[at].id, pack.rules[at].constants[number].name));
            }
        }
    }
    assert!(loose.is_empty(), "no example is near these limits: {loose:?}");
}

/// The constants that an example has to hold, by their numbers.
fn limits(rule: &Rule) -> Vec<(usize, Quantity)> {
    let limit = |(number, constant): (usize, &Constant)| match constant.value {
        Literal::Quantity(limit) if limit.si != 0.0 && !WITHOUT.contains(&(&*rule.id, &*constant.name)) => {
            Some((number, limit))
        }
        _ => None,
    };
    rule.constants.iter().enumerate().filter_map(limit).collect()
}

fn problems(pack: &Pack, at: usize) -> Vec<Finding> {
    test_rule(pack, &pack.rules[at], &|text| review_with(pack, &[("a.detail", text)]).findings).problems
}

/// The facts of all examples of a rule, with whether it finds fault with them.
fn examples(pack: &Pack, at: usize) -> Vec<(bool, FileFacts)> {
    let facts = |text: &Quoted<'_>| review_alone(pack, &whole_text(text), TODAY, true).checked.remove(0).facts;
    let mut examples = Vec::new();
    for example in pack.examples(&pack.rules[at]) {
        examples.push((example.fails, facts(&example.text)));
        examples.extend(example.cured.iter().map(|text| (false, facts(text))));
    }
    examples
}

/// Whether a rule finds fault with a text of these facts.
fn finds(pack: &Pack, at: usize, facts: &FileFacts) -> bool {
    let kind = pack.rules[at].about;
    let items = facts.around(kind).chain(facts.details.iter().flat_map(move |facts| facts.items(kind).iter()));
    judge(pack, items).iter().any(|finding| finding.rule == pack.rules[at].id)
}

/// Switches off all rules but these.
fn judge_by(pack: &mut Pack, wanted: impl Fn(usize) -> bool) {
    pack.rules.iter_mut().enumerate().for_each(|(number, rule)| rule.off = !wanted(number));
    pack.index();
}

#[test]
fn former_names_of_materials_mean_the_new_ones() {
    let text = "include \"stock.detail\"\n\
                assembly W wall {\n  outside\n  layer wrap-tight controls water, air\n  layer plywood 12 mm\n  layer smart-retarder controls vapor\n  inside\n}\n";
    let run = crate::drawing::folder(text, "former-names");
    let unknown: Vec<&str> =
        run.report.findings.iter().filter(|f| &*f.rule == "unknown-name").map(|f| f.message.as_str()).collect();
    assert!(unknown.is_empty(), "{unknown:?}");
    let names: Vec<&str> =
        run.checked[0].facts.assemblies[0].assembly.layers.iter().map(|l| &*l.material.name).collect();
    assert_eq!(names, ["wrap-coated", "plywood", "responsive-retarder"]);
}
