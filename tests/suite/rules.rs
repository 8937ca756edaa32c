//! Rule files: what they may say, what is refused and where, and what rules find in facts.

use std::fmt::Write;
use std::sync::Arc;

use headlap::facts::vocabulary::{Fact, Kind};
use headlap::finding::{Finding, Level};
use headlap::model::{Control, Controls, Material, MaterialKind, Waiver};
use headlap::quantity::parse_quantity;
use headlap::rules::{Pack, fields_of, group_by_cause, judge, read_adjustments, waive};
use headlap::text::{FileId, Source, Span};

fn source(text: &str) -> Arc<Source> {
    Arc::new(Source::new(FileId::detail(1), "firm/rule.toml", text))
}

fn load(text: &str) -> Result<Pack, Vec<Finding>> {
    Pack::of(&[], &[source(text)])
}

fn pack(text: &str) -> Pack {
    load(text).unwrap_or_else(|problems| panic!("{}", show(text, &problems)))
}

fn problems(text: &str) -> Vec<Finding> {
    load(text).err().unwrap_or_default()
}

/// A rule about materials with some of its lines in place of the usual ones.
fn rule(lines: &str) -> String {
    let mut text = String::from("[[rule]]\n");
    for (key, usual) in [
        ("id", "\"thin\""),
        ("title", "\"Thin\""),
        ("level", "\"warning\""),
        ("about", "\"material\""),
        ("needs", "'thickness >= 1 mm'"),
        ("says", "\"{material} is thin\""),
    ] {
        if !lines.lines().any(|line| line.split('=').next().is_some_and(|k| k.trim() == key)) {
            writeln!(text, "{key} = {usual}").unwrap();
        }
    }
    text + lines.trim_start() + "\n"
}

/// Findings with the words that they stand under, as carets.
fn show(text: &str, findings: &[Finding]) -> String {
    let source = source(text);
    let mut shown = String::new();
    let under = |span: Span, message: &str| {
        let (line, position) = (source.lines().line_at(span.start as usize), source.position(span.start as usize));
        let range = source.lines().range(&source.text, line);
        let width = source.at(span).lines().next().unwrap_or("").chars().count().max(1);
        format!("  {}\n  {}{} {message}\n", &source.text[range], " ".repeat(position.column - 1), "^".repeat(width))
    };
    for finding in findings {
        writeln!(shown, "{}: {}", finding.rule, finding.title).unwrap();
        shown += &under(finding.span, &finding.message);
        for related in &finding.related {
            shown += &under(related.span, &format!("- {}", related.message));
        }
        if let Some(fix) = &finding.fix {
            writeln!(shown, "  = {fix}").unwrap();
        }
    }
    shown
}

/// The words under the only problem of a rule file.
fn at_fault(text: &str) -> (String, String) {
    let found = problems(text);
    assert_eq!(found.len(), 1, "{}", show(text, &found));
    (found[0].rule.to_string(), source(text).at(found[0].span).to_string())
}

fn material(name: &str) -> Material {
    Material {
        name: name.into(),
        kind: Some(MaterialKind::Sheet),
        title: None,
        holds: [Control::Water, Control::Air].into_iter().collect(),
        holds_span: None,
        thickness: None,
        vapor: None,
        conductivity: None,
        resistance: None,
        resistance_per: None,
        density: None,
        air_permeance: None,
        sensitive: false,
        surface: None,
        made_of: None,
        adhesive: None,
        applies_above: None,
        uv_limit: None,
        double_sided: false,
        capped: false,
        vented: false,
        drained: false,
        section: None,
        source: None,
        name_span: Span::new(FileId::detail(9), 10, 20),
    }
}

fn thick(name: &str, thickness: &str) -> Material {
    Material { thickness: Some(parse_quantity(thickness).unwrap()), ..material(name) }
}

fn judged(pack: &Pack, material: &Material) -> Vec<Finding> {
    judge(pack, [Fact::Material(material)])
}

fn holds(condition: &str, material: &Material) -> Option<bool> {
    // A rule fires when its need is false and is silent when it is unknown; asking for both distinguishes the three.
    let fires = |needs: String| {
        let constants = [("sizes", "sizes = [\"2 mm\", \"3 mm\"]"), ("strict", "strict = true")];
        let used = constants.iter().filter(|(name, _)| needs.contains(name)).map(|(_, line)| *line);
        let lines = used.collect::<Vec<_>>().join("\n");
        let pack = pack(&(WORDS.to_string() + &rule(&format!("needs = '''{needs}'''\n{lines}"))));
        judged(&pack, material).iter().any(|f| &*f.rule == "thin")
    };
    match (fires(format!("({condition})")), fires(format!("not ({condition})"))) {
        (false, true) => Some(true),
        (true, false) => Some(false),
        (false, false) => None,
        (true, true) => panic!("both true and false: {condition}"),
    }
}

const WORDS: &str = r#"
[words]
surface = ["concrete", "wood", "vinyl"]
adhesive = ["acrylic", "butyl", "bitumen"]

[[table]]
name = "bond"
title = "What sticks to what"
keys = ["adhesive", "surface"]
rows = [
  ["bitumen", "vinyl", "no", "read"],
  ["butyl", "concrete", "primer", "memory"],
  ["butyl", "any", "yes"],
]
basis = [{ known = "practice" }]

[[table]]
name = "least"
title = "Least thickness"
keys = ["kind"]
rows = [["sheet", "0.15 mm"], ["board", "9 mm"]]

"#;

#[test]
fn a_rule_file_loads_and_finds() {
    let pack = pack(&rule(
        r#"
when = 'kind == sheet and water in holds'
needs = 'thickness >= limit'
limit = "0.15 mm"
says = "{material} is {thickness} thick; at least {limit} is wanted"
fix = "Add {limit - thickness}."
basis = [{ source = "A handbook", clause = "1.2", says = "six mil", known = "read" }]
"#,
    ));
    let found = judged(&pack, &thick("cover", "0.1 mm"));
    assert_eq!(found.len(), 1);
    let finding = &found[0];
    assert_eq!((&*finding.rule, &*finding.title, finding.level), ("thin", "Thin", Level::Warning));
    assert_eq!(finding.message, "`cover` is 0.1 mm thick; at least 0.15 mm is wanted");
    assert_eq!(finding.fix.as_deref(), Some("Add 0.05 mm."));
    assert_eq!(finding.span, Span::new(FileId::detail(9), 10, 20));
    assert_eq!(finding.subject, ["cover".into()]);
    let values: Vec<(&str, &str)> = finding.values.iter().map(|(name, text)| (&**name, &**text)).collect();
    assert_eq!(values, [("thickness", "0.1 mm"), ("limit", "0.15 mm")]);
    assert_eq!(finding.basis[0].source, "A handbook");
    assert!(judged(&pack, &thick("cover", "0.15 mm")).is_empty());
    let board = Material { kind: Some(MaterialKind::Board), ..thick("board", "0.1 mm") };
    assert!(judged(&pack, &board).is_empty());
}

#[test]
fn a_limit_met_exactly_is_met_in_either_system() {
    // 152.4 mm is 6 in by the definition of the inch.
    for (limit, value) in [("6 in", "152.4 mm"), ("152.4 mm", "6 in"), ("0.3 m", "300 mm"), ("6 mil", "0.1524 mm")] {
        assert_eq!(holds(&format!("thickness >= {limit}"), &thick("m", value)), Some(true), "{limit} {value}");
        assert_eq!(holds(&format!("thickness > {limit}"), &thick("m", value)), Some(false), "{limit} {value}");
        assert_eq!(holds(&format!("thickness == {limit}"), &thick("m", value)), Some(true), "{limit} {value}");
    }
    assert_eq!(holds("thickness >= 150 mm", &thick("m", "149.99 mm")), Some(false));
}

#[test]
fn what_is_not_stated_stays_unknown() {
    let bare = material("m");
    for (condition, expected) in [
        ("thickness > 1 mm", None),
        ("thickness > 1 mm and capped", Some(false)),
        ("capped and thickness > 1 mm", Some(false)),
        ("thickness > 1 mm and not capped", None),
        ("thickness > 1 mm or not capped", Some(true)),
        ("not capped or thickness > 1 mm", Some(true)),
        ("thickness > 1 mm or capped", None),
        ("not (thickness > 1 mm)", None),
        ("not (thickness > 1 mm or not capped)", Some(false)),
        ("thickness + 1 mm > 1 mm", None),
        ("min(thickness, 1 mm) <= 1 mm", None),
        ("known(thickness)", Some(false)),
        ("not known(thickness) or thickness > 1 mm", Some(true)),
        ("surface == wood", None),
        ("surface in [wood, vinyl]", None),
        ("lookup(bond, adhesive, surface) == no", None),
        ("known(kind)", Some(true)),
    ] {
        assert_eq!(holds(condition, &bare), expected, "{condition}");
    }
}

#[test]
fn expressions_mean_what_they_say() {
    let given = Material {
        surface: Some("vinyl".into()),
        adhesive: Some("bitumen".into()),
        applies_above: Some(parse_quantity("40 F").unwrap()),
        ..thick("m", "2 mm")
    };
    for (condition, expected) in [
        ("kind == sheet", true),
        ("sheet == kind", true),
        ("kind != sheet", false),
        ("kind in [board, sheet]", true),
        ("kind not in [board, mass]", true),
        ("air in holds", true),
        ("vapor in holds", false),
        ("vapor not in holds", true),
        ("thickness in [1 mm, 2 mm]", true),
        ("thickness in sizes", true),
        ("(thickness / 2) in sizes", false),
        ("strict", true),
        ("not strict", false),
        ("thickness != 1 mm", true),
        ("thickness != 2 mm", false),
        // Sums of written numbers are off in the last place, around nothing too.
        ("0.1 mm + 0.2 mm - 0.3 mm == 0 mm", true),
        ("0.1 mm + 0.2 mm - 0.3 mm > 0 mm", false),
        ("thickness == 1 mm + 1 mm", true),
        ("thickness == 4 mm - 2 * 1 mm", true),
        ("thickness == (4 mm - 2 mm) * 1", true),
        ("thickness == 8 mm / 2 / 2", true),
        ("thickness == 5 mm - 2 mm - 1 mm", true),
        ("not thickness == 1 mm + 2 mm and not kind == board", true),
        ("not (kind == sheet and sensitive) or sensitive", true),
        ("thickness / 1 mm == 2", true),
        ("thickness < 1/8 in", true),
        ("max(thickness, 3 mm) == 3 mm", true),
        ("min(thickness, 3 mm) == thickness", true),
        ("applies-above > 4 C and applies-above < 5 C", true),
        ("applies-above - 4 C < 1 K", true),
        ("not sensitive", true),
        ("not not sensitive", false),
        ("sensitive == no", true),
        ("sensitive or capped or kind == sheet and not vented", true),
        ("lookup(bond, adhesive, surface) == no", true),
        ("lookup(bond, butyl, surface) == yes", true),
        ("lookup(bond, butyl, concrete) == primer", true),
        ("thickness >= lookup(least, kind)", true),
        ("thickness >= lookup(least, board)", false),
        ("surface == \"vinyl\"", true),
        ("material == material", true),
    ] {
        assert_eq!(holds(condition, &given), Some(expected), "{condition}");
    }
    // No row says anything of it.
    assert_eq!(holds("lookup(bond, acrylic, surface) == no", &given), None);
}

#[test]
fn a_missing_property_is_named_once_and_only_where_it_decides() {
    let two = pack(
        &(rule("needs = 'thickness >= 1 mm'")
            + &rule("id = \"thinner\"\nneeds = 'thickness >= 2 mm'")
            + &rule("id = \"decided\"\nneeds = 'not capped or density > 1 kg/m3'")),
    );
    let bare = material("wrap");
    let found = judge(&two, [Fact::Material(&bare), Fact::Material(&bare)]);
    assert_eq!(found.len(), 1);
    assert_eq!((&*found[0].rule, found[0].level, found[0].span), ("missing-property", Level::Note, bare.name_span));
    assert_eq!(found[0].fix.as_deref(), Some("Add `thickness` to the material wrap."));
    // A name that no file defines has been reported: nothing more is said of it.
    assert!(judge(&two, [Fact::Material(&Material { kind: None, ..bare })]).is_empty());
}

/// Wherever it stands in a condition: `thickness` is what a material without one is missing.
#[test]
fn a_missing_property_is_found_in_every_part_of_a_condition() {
    for needs in [
        "thickness in [1 mm, 2 mm]",
        "1 mm in [thickness]",
        "1 mm in [2 mm, thickness]",
        "thickness in sizes",
        "not (thickness > 1 mm)",
        "capped or thickness > 1 mm",
        "thickness + 1 mm > 2 mm",
        "min(thickness, 1 mm) > 2 mm",
        "2 mm > thickness",
    ] {
        let sizes = if needs.contains("sizes") { "\nsizes = ['1 mm', '2 mm']" } else { "" };
        let found = judged(&pack(&rule(&format!("needs = '{needs}'{sizes}"))), &material("m"));
        let fixes: Vec<_> = found.iter().map(|finding| finding.fix.as_deref()).collect();
        assert_eq!(fixes, [Some("Add `thickness` to the material m.")], "{needs}");
    }
    // What is known otherwise needs no thickness.
    for needs in ["1 mm in [1 mm, thickness]", "not capped or thickness > 1 mm"] {
        assert!(judged(&pack(&rule(&format!("needs = '{needs}'"))), &material("m")).is_empty(), "{needs}");
    }
}

/// Each material and each of its properties once, also where names or properties are alike.
#[test]
fn each_missing_property_of_each_material_is_reported() {
    let two = pack(&(rule("needs = 'thickness > 1 mm'") + &rule("id = \"denser\"\nneeds = 'density > 1 kg/m3'")));
    let (first, second) = (material("first"), material("second"));
    let found = judge(&two, [&first, &second, &first].map(Fact::Material));
    let mut fixes: Vec<_> = found.iter().filter_map(|finding| finding.fix.as_deref()).collect();
    fixes.sort();
    assert_eq!(
        fixes,
        [
            "Add `density` to the material first.",
            "Add `density` to the material second.",
            "Add `thickness` to the material first.",
            "Add `thickness` to the material second.",
        ]
    );
    // Two files may each have one of that name.
    let namesake = Material { name_span: Span::new(FileId::detail(9), 70, 75), ..material("first") };
    assert_eq!(judge(&two, [&first, &namesake].map(Fact::Material)).len(), 4);
}

#[test]
fn a_need_that_is_met_anyway_asks_for_no_property() {
    let pack = pack(&rule("when = 'density > 1 kg/m3'\nneeds = 'not capped'"));
    assert!(judged(&pack, &material("m")).is_empty());
}

#[test]
fn sentences_speak_in_the_units_of_their_author() {
    let says = |thickness: &str, sentence: &str| {
        let pack = pack(&rule(&format!(
            "needs = 'thickness >= limit'\nlimit = \"10 mm\"\nsays = \"{sentence}\"\nper = 'kind'"
        )));
        judged(&pack, &thick("m", thickness))[0].message.clone()
    };
    assert_eq!(says("1/4 in", "{thickness}"), "1/4 in");
    assert_eq!(says("2 mm", "{limit}"), "10 mm");
    // 10 mm less 1/4 in is 0.1437 in; the next eighth that is enough is 1/4.
    assert_eq!(says("1/4 in", "{limit - thickness}"), "1/4 in");
    assert_eq!(says("2.5 mm", "{limit - thickness}"), "7.5 mm");
    assert_eq!(says("2 mm", "{{{kind}}} {holds} {sensitive}"), "{sheet} water and air no");
    assert_eq!(says("2 mm", "{surface}"), "unknown");
}

/// What is to be added is rounded up to the next eighth of an inch, so that it is enough.
#[test]
fn differences_in_inches_go_up_to_the_next_eighth() {
    let says = |sentence: &str, limit: &str, thickness: &str| {
        let lines = format!("needs = 'thickness > 100 m and limit > 0 mm'\nlimit = \"{limit}\"\nsays = \"{sentence}\"");
        judged(&pack(&rule(&lines)), &thick("m", thickness))[0].message.clone()
    };
    let add = "{limit - thickness}";
    assert_eq!(says(add, "6 in", "2-1/8 in"), "3-7/8 in");
    // Sixteenths can be read off a rule.
    assert_eq!(says(add, "6 in", "2-3/16 in"), "3-13/16 in");
    // 25 mm less 3/4 in is 0.234 in; 100 mm less 3 in is 0.937 in.
    assert_eq!(says(add, "25 mm", "3/4 in"), "1/4 in");
    assert_eq!(says(add, "100 mm", "3 in"), "1 in");
    // 10 mm less 3/8 in is 0.0187 in; what little is wanting is an eighth.
    assert_eq!(says(add, "10 mm", "3/8 in"), "1/8 in");
    assert_eq!(says("{thickness - limit}", "10 mm", "1/4 in"), "-1/4 in");
    // 8 ft 6 in less 10 mm is 101.606 in.
    assert_eq!(says("{thickness - limit}", "10 mm", "8 ft 6 in"), "8 ft 5-5/8 in");
    // 8 in less 10 mm is 7.606 in.
    assert_eq!(says("{thickness - limit}", "10 mm", "8 in"), "7-5/8 in");
}

#[test]
fn a_sentence_names_each_thing_and_each_value_once() {
    let pack = pack(&rule("says = \"{thickness} {material} {thickness} {material}\""));
    let finding = &judged(&pack, &thick("m", "0.5 mm"))[0];
    assert_eq!(finding.message, "0.5 mm `m` 0.5 mm `m`");
    assert_eq!(finding.subject, ["m".into()]);
    assert_eq!(finding.values.len(), 1);
}

#[test]
fn a_brace_that_closes_nothing_is_the_one_at_fault() {
    assert_eq!(at_fault(&rule("says = \"a } b\"")), ("rule-syntax".to_string(), "}".to_string()));
    assert_eq!(at_fault(&rule("says = \"a {b\"")), ("rule-syntax".to_string(), "{".to_string()));
}

/// Of two missing properties the one that an author can add is reported, whichever comes first.
#[test]
fn an_unknown_with_a_name_is_reported_before_one_without() {
    let notes = |needs: &str| {
        let pack = pack(&(WORDS.to_string() + &rule(&format!("needs = '{needs}'"))));
        judged(&pack, &Material { surface: Some("vinyl".into()), ..material("m") }).len()
    };
    // No row of the table is about acrylic on vinyl: no author can add that, and the density can be added.
    let nameless = "lookup(bond, acrylic, surface) == yes";
    assert_eq!(notes(nameless), 0);
    assert_eq!(notes(&format!("{nameless} or density > 1 kg/m3")), 1);
    assert_eq!(notes(&format!("density > 1 kg/m3 or {nameless}")), 1);
    assert_eq!(notes(&format!("{nameless} and density > 1 kg/m3")), 1);
}

/// What goes together, about things that have two sides; each is either taken or has one problem, under the words at fault.
#[test]
fn what_goes_together_is_taken_and_what_does_not_is_refused_once() {
    let asks = |about: &str, needs: &str| {
        let words = ["grade = \"sheet\"", "slip = \"shet\"", "sizes = [\"1 mm\", \"2 mm\"]"];
        let used = words.iter().filter(|line| needs.contains(line.split(' ').next().unwrap_or_default()));
        let lines = used.copied().collect::<Vec<_>>().join("\n");
        WORDS.to_string() + &rule(&format!("about = \"{about}\"\nsays = \"x\"\nneeds = '''{needs}'''\n{lines}"))
    };
    for (about, needs) in [
        ("material", "kind == grade"),
        ("material", "kind in [grade, board]"),
        ("material", "thickness in sizes"),
        ("assembly", "title == \"x\""),
        ("assembly", "\"x\" == title"),
        ("assembly", "title == annex"),
        ("assembly", "title in [\"x\", \"y\"]"),
        // Any word may be a zone.
        ("assembly", "zone == kind"),
        ("assembly", "zone in [kind, \"4A\"]"),
        ("assembly", "sheathing in layers"),
        ("assembly", "sheathing in [retarder, outer]"),
        ("assembly", "count(layers) > count(layers, framed)"),
        ("lap", "over == under"),
        ("piece", "slope > 2 %"),
        ("material", "max(thickness, 1 mm) > 1 mm"),
    ] {
        let text = asks(about, needs);
        assert!(problems(&text).is_empty(), "{needs}\n{}", show(&text, &problems(&text)));
    }
    for (about, needs, message) in [
        ("material", "kind == slip", "`shet`"),
        ("material", "kind in [slip]", "`shet`"),
        ("material", "surface == \"vinil\"", "`vinil`"),
        ("material", "kind == adhesive", "the two words come from different lists, so they are never equal"),
        ("material", "kind in [adhesive]", "a word cannot be in a list with a word"),
        ("material", "kind in [thickness]", "a word cannot be in a list with a length"),
        ("material", "thickness in [1 perm]", "a length cannot be in a list with a vapor permeance"),
        ("material", "density in sizes", "`in` cannot find a density in a list of values, each a length"),
        ("assembly", "sheathing in [kind]", "a layer cannot be in a list with a word"),
        ("layer", "assembly in [material]", "an assembly cannot be in a list with a material"),
        ("layer", "assembly in outboard", "`in` cannot find an assembly in a list of layers"),
        ("layer", "assembly == material", "an assembly is never a material"),
        ("layer", "assembly == thickness", "an assembly cannot be compared with a length"),
        ("layer", "thickness == permeance", "a length cannot be compared with a vapor permeance"),
        ("material", "max(thickness, 1 perm) > 1 mm", "a length cannot be compared with a vapor permeance"),
        ("lap", "over + under > 1 mm", "a piece and a piece cannot be used in arithmetic"),
        ("piece", "slope > 1 mm", "cannot be compared"),
        ("material", "yes.kind == no", "`yes` is neither a field"),
        ("material", "thickness > 1foo", "unexpected `foo`"),
        ("material", "thickness mm", "unexpected `mm`"),
        ("material", "kind < board", "compares quantities only"),
        ("material", "lookup(least, thickness) > 1 mm", "takes a word here, but this is a length"),
        ("material", "lookup(bond, slip, surface) == yes", "`shet`"),
        ("material", "lookup(1 mm, kind) > 1 mm", "expected the name of a table"),
        ("material", "count()", "`count` takes a list and an optional condition"),
        ("material", "known(kind, kind)", "`known` takes one value"),
        ("material", "any(kind)", "`any` takes a list and a condition"),
        ("material", "lookup()", "`lookup` takes a table and its keys"),
        ("material", "min(thickness) > 1 mm", "`min` takes two quantities"),
        ("assembly", "count(kind) > 1", "this is a word"),
    ] {
        let text = asks(about, needs);
        let found = problems(&text);
        assert_eq!(found.len(), 1, "{needs}\n{}", show(&text, &found));
        assert!(found[0].message.contains(message), "{needs}\n{}", show(&text, &found));
    }
}

/// A constant that cannot be read is one problem; what else is wrong in its rule is reported too.
#[test]
fn a_constant_that_cannot_be_read_hides_nothing_else() {
    let names = |needs: &str| {
        let found = problems(&rule(&format!("needs = '{needs}'\nlimit = \"1 mmm\"")));
        found.iter().map(|f| f.rule.to_string()).collect::<Vec<_>>()
    };
    assert_eq!(names("thickness > limit"), ["rule-value"]);
    assert_eq!(names("thicknes > 1 mm or thickness > limit"), ["rule-name", "rule-value"]);
}

/// A minus is seen in a name only where both of its sides stand for something.
#[test]
fn a_minus_is_hidden_between_two_names() {
    let fix = |needs: &str| {
        problems(&rule(&format!("needs = '{needs} and limit > 0 mm'\nlimit = \"1 mm\"")))
            .remove(0)
            .fix
            .clone()
            .unwrap_or_default()
    };
    assert!(fix("limit-thickness > 0 mm").contains("`limit - thickness`"));
    assert!(!fix("limit-thinness > 0 mm").contains(" - "));
    assert!(!fix("thinness-limit > 0 mm").contains(" - "));
}

#[test]
fn a_constant_has_a_name_that_an_expression_can_say() {
    for name in ["\"two words\"", "\"9th\"", "\"a.b\"", "\"\""] {
        let found = problems(&rule(&format!("{name} = \"1 mm\"")));
        assert!(found.iter().any(|f| f.message.contains("is not a name")), "{name}: {found:?}");
    }
    for name in ["least-lap", "least_lap", "lap2", "größe"] {
        let text = rule(&format!("\"{name}\" = \"1 mm\"\nneeds = 'thickness > {name}'"));
        assert!(problems(&text).iter().all(|f| !f.message.contains("is no name")), "{name}");
    }
}

#[test]
fn words_that_join_conditions_are_no_names() {
    for word in ["and", "or", "not", "in"] {
        let (id, _) = at_fault(&rule(&format!("says = \"{{{word}}}\"")));
        assert_eq!(id, "rule-syntax", "{word}");
    }
    // A list beside them is of the expression, and its name stands under the caret alone.
    assert_eq!(at_fault(&rule("says = \"{ thicknes }\"")).1, "thicknes");
    assert_eq!(at_fault(&rule("needs = 'capped and (thicknes) > 1 mm'")).1, "(thicknes)".trim_matches(['(', ')']));
    assert_eq!(at_fault(&rule("needs = 'capped and (thickness)'")).1, "(thickness)");
}

#[test]
fn constants_are_what_toml_and_the_language_both_read() {
    for (value, message) in [
        ("0x10", "expected a quantity, a word, a number"),
        ("1e13", "out of range"),
        ("inf", "out of range"),
        ("\"two words\"", "neither a quantity nor a word"),
        ("\"\"", "neither a quantity nor a word"),
        ("\"1mm\"", "expected a space between the number and its unit: `1 mm`"),
        ("\"a b\"", "neither a quantity nor a word"),
        ("[\"1 mm\", \"1 perm\"]", "a list has to hold only words, or only quantities of one dimension"),
        ("[\"sheet\", \"1 mm\"]", "a list has to hold only words, or only quantities of one dimension"),
        ("[]", "a list has to hold only words, or only quantities of one dimension"),
        ("1979-05-27", "this constant is of type datetime"),
    ] {
        let found = problems(&rule(&format!("needs = 'known(limit)'\nlimit = {value}")));
        assert!(found.iter().any(|f| f.message.contains(message)), "{value}: {found:?}");
    }
    // A zone is a word though it begins with a digit and ends like a temperature; so is a grade that is no unit.
    for value in ["\"4C\"", "\"4A\"", "\"mm\"", "\"no.15\"", "1_000", "1e12", "-3.5", "true", "[\"1 mm\", \"6 in\"]"] {
        let text = rule(&format!("needs = 'known(limit)'\nlimit = {value}"));
        assert!(problems(&text).is_empty(), "{value}: {}", show(&text, &problems(&text)));
    }
}

/// Brackets beside each other are no depth.
#[test]
fn forty_deep_is_read_and_one_deeper_is_not() {
    let nested = |depth: usize| rule(&format!("needs = '{}capped{}'", "(".repeat(depth), ")".repeat(depth)));
    assert!(problems(&nested(40)).is_empty());
    assert!(problems(&nested(41))[0].message.contains("nests too deeply"));
    let beside = vec!["(capped)"; 60].join(" and ");
    assert!(problems(&rule(&format!("needs = '{beside}'"))).is_empty());
    let sum = |parts: usize| rule(&format!("needs = 'thickness{} > 1 mm'", " + 1 mm".repeat(parts)));
    assert!(problems(&sum(39)).is_empty());
    assert!(problems(&sum(40))[0].message.contains("too many parts"));
    let long = |blanks: usize| rule(&format!("needs = 'capped{} and capped'", " ".repeat(blanks)));
    assert!(problems(&long(20_000 - "capped and capped".len())).is_empty());
    assert!(problems(&long(20_001 - "capped and capped".len()))[0].message.contains("too long"));
}

/// TOML counts bytes; a caret stands under whole characters.
#[test]
fn a_syntax_error_stands_on_whole_characters() {
    for text in ["id = é\n", "é = 1\n", "id = \"a\" é\n", "[[é]]\n", "id = 1é\n", "id = \"\\é\"\n", "a.é.é = é"]
    {
        for finding in problems(text) {
            let range = finding.span.range();
            let words = text.get(range.clone());
            assert!(words.is_some_and(|words| words.len() <= text.len()), "{text:?} {range:?}");
        }
    }
}

#[test]
fn a_fix_with_an_unknown_in_it_is_left_out() {
    let pack = pack(&rule("fix = \"Use {surface}.\"\nneeds = 'capped'"));
    assert_eq!(judged(&pack, &material("m"))[0].fix, None);
}

#[test]
fn findings_of_one_cause_become_one() {
    let pack = pack(&rule("needs = 'capped'\nper = 'kind'"));
    let mut later = material("second");
    later.name_span = Span::new(FileId::detail(9), 50, 60);
    let first = Material { name: "first".into(), ..material("first") };
    // Both live in one home only when they have one name there: materials are their own homes.
    let same_home = Material { name: "first".into(), ..later.clone() };
    for order in [[&first, &same_home], [&same_home, &first]] {
        let found = gathered(&pack, &order);
        assert_eq!(found.len(), 1);
        assert_eq!(found[0].span, first.name_span, "the first place carries the finding");
        assert_eq!(found[0].related[0].span, same_home.name_span);
    }
    assert_eq!(gathered(&pack, &[&first, &later]).len(), 2);
    let board = Material { kind: Some(MaterialKind::Board), ..same_home };
    assert_eq!(gathered(&pack, &[&first, &board]).len(), 2, "two values of `per` are two causes");
}

/// In whatever order they come, the first carries all others; what two rules say of it stays apart.
#[test]
fn a_cause_is_reported_once_for_each_rule_with_all_of_its_places() {
    let per = |id: &str| rule(&format!("id = '{id}'\nneeds = 'capped'\nper = 'kind'"));
    let at = |start| Material { name_span: Span::new(FileId::detail(9), start, start + 5), ..material("m") };
    let [a, b, c] = [at(10), at(20), at(30)];
    for order in [[&a, &b, &c], [&a, &c, &b], [&b, &a, &c], [&b, &c, &a], [&c, &a, &b], [&c, &b, &a]] {
        let found = gathered(&pack(&per("one")), &order);
        assert_eq!(found.len(), 1);
        let mut places: Vec<_> = found[0].related.iter().map(|related| related.span.start).collect();
        places.sort();
        assert_eq!((found[0].span.start, &places[..]), (10, &[20, 30][..]));
    }
    assert_eq!(gathered(&pack(&(per("one") + &per("two"))), &[&a]).len(), 2);
}

fn gathered(pack: &Pack, materials: &[&Material]) -> Vec<Finding> {
    let mut found = judge(pack, materials.iter().map(|material| Fact::Material(material)));
    group_by_cause(&mut found);
    found
}

#[test]
fn the_place_of_a_finding_is_a_part_of_the_thing() {
    let spanned = Material { holds_span: Some(Span::new(FileId::detail(9), 30, 40)), ..material("m") };
    for (at, expected) in [("", 10), ("holds", 30), (".holds", 30), ("material.holds", 30), ("material", 10)] {
        let pack = pack(&rule(&format!("needs = 'capped'\nat = \"{at}\"")));
        assert_eq!(judged(&pack, &spanned)[0].span.start, expected, "{at:?}");
    }
}

#[test]
fn a_place_goes_through_things_and_lists_to_a_part() {
    for (about, at) in [
        ("lap", "over.up"),
        ("lap", "over.material"),
        ("fastening", "taped-over"),
        ("fastening", "taped-over.up"),
        ("detail", ".grade"),
    ] {
        let text = format!(
            "[[rule]]\nid = \"x\"\ntitle = \"x\"\nlevel = \"note\"\nabout = \"{about}\"\nneeds = 'no'\nsays = \"x\"\nat = \"{at}\"\n"
        );
        assert!(problems(&text).is_empty(), "{}", show(&text, &problems(&text)));
        let (_, under) = at_fault(&text.replace(at, &format!("{at}.nowhere")));
        assert!(under.ends_with("nowhere") || under.ends_with(at.rsplit('.').next().unwrap()), "{under}");
    }
}

#[test]
fn every_slip_of_a_key_is_refused_at_the_key() {
    for (key, slip) in [
        ("id", "idd"),
        ("title", "tilte"),
        ("level", "levle"),
        ("about", "abuot"),
        ("needs", "neds"),
        ("says", "say"),
        ("when", "wen"),
        ("fix", "fxi"),
        ("basis", "bassis"),
        ("example", "exampel"),
        ("except", "excep"),
        ("replaces", "replace"),
    ] {
        let mut text = rule("when = 'capped'\nfix = \"x\"\nbasis = [{ known = \"practice\" }]");
        text = match key {
            "example" | "except" | "replaces" => text + slip + " = true\n",
            _ => text.replace(&format!("\n{key} = "), &format!("\n{slip} = ")),
        };
        let (id, under) = at_fault(&text);
        assert_eq!((id.as_str(), under.as_str()), ("rule-key", slip), "{text}");
        assert_eq!(problems(&text)[0].fix.as_deref(), Some(&*format!("Did you mean `{key}`?")));
    }
}

#[test]
fn every_key_that_a_rule_needs_is_missed() {
    for key in ["id", "title", "level", "about", "needs", "says"] {
        let text: String = rule("").lines().filter(|line| !line.starts_with(key)).map(|l| format!("{l}\n")).collect();
        let found = problems(&text);
        assert_eq!(found.len(), 1, "{}", show(&text, &found));
        assert!(found[0].message.contains(&format!("`{key}`")), "{}", found[0].message);
    }
}

/// Input and findings together, so that a reader sees whether the carets and the words help.
#[test]
fn problems_of_rule_files() {
    let cases: &[(&str, String)] = &[
        ("an unknown field", rule("needs = 'thicknes >= 1 mm'")),
        ("a field of a field", rule("needs = 'material.knid == sheet'")),
        ("a field of a word", rule("needs = 'kind.name == sheet'")),
        ("dimensions", rule("needs = 'thickness >= limit'\nlimit = \"1 perm\"")),
        ("a bare number", rule("needs = 'thickness >= 2'")),
        ("a sum of strangers", rule("needs = 'thickness + density > 1 mm'")),
        ("a product of temperatures", rule("needs = 'applies-above * 2 > 1 C'")),
        ("a word of no list", rule("needs = 'kind == shet'")),
        ("a word of no list, in brackets", rule("needs = 'kind in [sheet, bord]'")),
        ("a word that holds nothing", rule("needs = 'watr in holds'")),
        ("a constant word of no list", rule("needs = 'kind in allowed'\nallowed = [\"sheet\", \"tapes\"]")),
        ("two lists", rule("needs = 'kind == surface'")),
        ("an order of words", rule("needs = 'kind > sheet'")),
        ("no condition", rule("needs = 'thickness'")),
        ("what follows from one slip", rule("needs = 'knd == sheet and kind == sheet'")),
        ("no condition in a part", rule("needs = 'capped and thickness or kind'")),
        ("a hidden minus", rule("needs = 'limit-thickness > 0 mm'\nlimit = \"1 mm\"")),
        ("no such unit", rule("needs = 'thickness > 1 mmm'")),
        ("no such unit in a constant", rule("needs = 'thickness > limit'\nlimit = \"1 mmm\"")),
        ("no blank before the unit", rule("needs = 'thickness > limit'\nlimit = \"1mm\"")),
        ("no blank before the unit, in place", rule("needs = 'thickness > 1mm'")),
        ("single equals", rule("needs = 'kind = sheet'")),
        ("nothing after and", rule("needs = 'capped and'")),
        ("an open bracket", rule("needs = '(capped or vented'")),
        ("two values", rule("needs = 'capped vented'")),
        ("an operator too many", rule("needs = 'thickness > > 1 mm'")),
        ("two comparisons in a row", rule("needs = '1 mm < thickness < 2 mm'")),
        ("a denial of half a comparison", rule("needs = 'kind == not sheet'")),
        ("an empty expression", rule("needs = ' '")),
        ("no such function", rule("needs = 'exists(thickness)'")),
        ("arguments", rule("needs = 'any(thickness)'")),
        ("no list", rule("needs = 'any(thickness, capped)'")),
        ("no such table", rule("needs = 'lookup(bnd, adhesive) == yes'") + &WORDS.replace("[words]", "[[words]]")),
        ("keys of a table", WORDS.to_string() + &rule("needs = 'lookup(bond, adhesive) == yes'")),
        ("a key of another list", WORDS.to_string() + &rule("needs = 'lookup(bond, surface, adhesive) == yes'")),
        ("a value that no cell has", WORDS.to_string() + &rule("needs = 'lookup(bond, adhesive, surface) == nope'")),
        ("a template that never ends", rule("says = \"{material is thin\"")),
        ("a stray brace", rule("says = \"material} is thin\"")),
        ("an unknown field in a template", rule("fix = \"Use {thicknes}.\"")),
        ("behind an escape", rule("says = \"\\u00e9\\t\\\"{thicknes}\\\"\"")),
        ("on a later line", rule("needs = '''\n  capped\n  or thicknes > 1 mm\n'''")),
        ("an unknown place", rule("at = \"hold\"")),
        ("a place that is no thing", rule("at = \"thickness\"")),
        ("no such kind of fact", rule("about = \"materiel\"")),
        ("no such level", rule("level = \"eror\"")),
        ("an id with blanks", rule("id = \"Thin Sheet\"")),
        ("an unused constant", rule("slack = \"1 mm\"")),
        ("a constant that hides a field", rule("density = \"1 mm\"\nwhen = 'density > 0 mm'")),
        ("a mixed list", rule("needs = 'kind in allowed'\nallowed = [\"sheet\", \"1 mm\"]")),
        ("a basis without its standing", rule("basis = [{ source = \"A handbook\" }]")),
        ("a basis of unknown standing", rule("basis = [{ source = \"A handbook\", known = \"red\" }]")),
        ("a basis without a source", rule("basis = [{ known = \"read\" }]")),
        ("an example that is both", rule("[[rule.example]]\nfails = 'x'\npasses = 'x'")),
        ("a cure of what passes", rule("[[rule.example]]\npasses = 'x'\ncured = 'x'")),
        ("a cure that is no text", rule("[[rule.example]]\nfails = 'x'\ncured = 1")),
        ("two of one id", rule("") + &rule("")),
        ("nothing to replace", rule("replaces = true")),
        ("a strange item", "[[rul]]\nid = \"x\"\n".to_string()),
        ("syntax", "[[rule]]\nid = \"thin\ntitle = = \"x\"\n".to_string()),
        ("a short row", "[[table]]\nname = \"t\"\nkeys = [\"a\"]\nrows = [[\"x\"], [\"x\", \"1 mm\"]]\n".to_string()),
        (
            "a column of two kinds",
            "[[table]]\nname = \"t\"\nkeys = [\"a\"]\nrows = [[\"x\", \"1 mm\"], [\"y\", \"1 perm\"]]\n".to_string(),
        ),
    ];
    let mut all = String::new();
    for (name, text) in cases {
        let found = problems(text);
        assert!(!found.is_empty(), "{name} is let through");
        for finding in &found {
            assert_eq!(finding.level, Level::Error);
            assert!(finding.span.range().end <= text.len(), "{name} stands outside");
        }
        writeln!(all, "## {name}\n{}", show(text, &found)).unwrap();
    }
    insta::assert_snapshot!(all);
}

/// A table says by the name of its column which list the words of that column come from.
#[test]
fn a_column_takes_words_of_its_own_list_alone() {
    for (list, about, field) in [
        ("control", "transition", "control"),
        ("material-kind", "material", "kind"),
        ("assembly-kind", "assembly", "kind"),
        ("detail-kind", "detail", "kind"),
        ("fold", "turn", "fold"),
        ("surface", "material", "surface"),
        ("adhesive", "material", "adhesive"),
        ("event", "drop", "event"),
        ("run", "lap", "run"),
        ("side", "edge", "side"),
        ("vapor-class", "material", "vapor-class"),
    ] {
        let table = format!("[[table]]\nname = \"t\"\nkeys = [\"{list}\"]\nrows = [[\"any\", \"yes\"]]\n");
        let asks = |about: &str, field: &str| {
            let says = "says = \"x\"";
            table.clone() + &rule(&format!("about = \"{about}\"\n{says}\nneeds = 'lookup(t, {field}) == yes'"))
        };
        assert!(load(&asks(about, field)).is_ok(), "{list}: {:?}", problems(&asks(about, field)));
        let (other, strange) = if about == "material" { ("lap", "run") } else { ("material", "surface") };
        let refused = problems(&asks(other, strange));
        assert!(refused.iter().any(|f| f.message.contains(&format!("takes a word of {list}"))), "{list}: {refused:?}");
    }
}

#[test]
fn adjustments() {
    let text = rule(
        "needs = 'thickness >= limit or kind in free or kind == grade'\nlimit = \"1 mm\"\nfree = [\"board\", \
         \"mass\"]\ngrade = \"frame\"",
    );
    let adjust = |toml: &str| {
        let mut pack = pack(&text);
        let source = source(toml);
        let table = toml::de::DeTable::parse(toml).unwrap();
        let table = table.get_ref().get("adjust").unwrap().get_ref().as_table().unwrap();
        let adjusted = read_adjustments(&source, table).and_then(|list| pack.adjust(&list));
        adjusted.map(|()| pack)
    };
    let fires = |pack: &Pack, thickness: &str| judged(pack, &thick("m", thickness)).first().cloned();

    let pack = adjust("[adjust.thin]\nlimit = \"1/8 in\"\nlevel = \"error\"\nbecause = \"our maker asks\"").unwrap();
    let finding = fires(&pack, "2 mm").expect("2 mm is under 1/8 in");
    assert_eq!(finding.level, Level::Error);
    assert_eq!(
        finding.basis.last().unwrap().says.as_deref(),
        Some("limit 1/8 in instead of 1 mm, error instead of warning: our maker asks")
    );
    // The words that ruled the rule out may be others now.
    let board = Material { kind: Some(MaterialKind::Board), ..thick("m", "0.5 mm") };
    assert!(judged(&pack, &board).is_empty());
    let pack = adjust("[adjust.thin]\nfree = [\"sheet\"]\nbecause = \"b\"").unwrap();
    assert!(fires(&pack, "0.5 mm").is_none());
    assert_eq!(judged(&pack, &board).len(), 1);
    let pack = adjust("[adjust.thin]\ngrade = \"sheet\"\nbecause = \"b\"").unwrap();
    assert!(fires(&pack, "0.5 mm").is_none());
    let pack = adjust("[adjust.thin]\noff = true\nbecause = \"b\"").unwrap();
    assert!(fires(&pack, "0.5 mm").is_none());
    assert!(!pack.asks_about(Kind::Material));

    let mut all = String::new();
    for refused in [
        "[adjust.thn]\nlimit = \"2 mm\"\nbecause = \"b\"",
        "[adjust.thin]\nlimt = \"2 mm\"\nbecause = \"b\"",
        "[adjust.thin]\nlimit = \"2 perm\"\nbecause = \"b\"",
        "[adjust.thin]\nfree = [\"shet\"]\nbecause = \"b\"",
        "[adjust.thin]\ngrade = \"shet\"\nbecause = \"b\"",
        "[adjust.thin]\nlimit = \"2 mm\"",
        "[adjust.thin]\nlimit = \"2 mm\"\nbecause = \" \"",
        "[adjust.thin]\nlevel = \"fatal\"\nbecause = \"b\"",
        "[adjust.thin]\noff = \"yes\"\nbecause = \"b\"",
        "[adjust]\nthin = \"off\"",
    ] {
        let found = adjust(refused).err().unwrap_or_else(|| panic!("let through: {refused}"));
        for mut finding in found {
            // Places in the rule file would be shown in the wrong text here.
            let other = finding.related.drain(..).map(|r| format!("  - {}\n", r.message)).collect::<String>();
            write!(all, "{}{other}", show(refused, &[finding])).unwrap();
        }
    }
    insta::assert_snapshot!(all);
}

#[test]
fn a_firm_replaces_a_stock_rule_only_when_it_says_so() {
    let stock = Arc::new(Source::new(FileId::detail(2), "rules/thin.toml", rule("needs = 'capped'")));
    let firm = |text: &str| Pack::of(std::slice::from_ref(&stock), &[source(text)]);
    let refused = firm(&rule("needs = 'vented'")).err().unwrap();
    assert_eq!((&*refused[0].rule, refused[0].related[0].span.file), ("rule-duplicate", FileId::detail(2)));
    let pack = firm(&rule("needs = 'vented'\nreplaces = true")).unwrap_or_else(|p| panic!("{p:?}"));
    let vented = Material { vented: true, ..material("m") };
    assert!(judged(&pack, &vented).is_empty());
    assert_eq!(judged(&pack, &material("m")).len(), 1);
}

#[test]
fn waivers_cover_what_they_name() {
    let pack = pack(&rule("needs = 'capped'"));
    let waiver = |rule: &str, on: Option<&str>, until: Option<&str>| Waiver {
        rule: rule.into(),
        rule_span: Span::default(),
        on: on.map(|name| (name.into(), Span::default())),
        because: "boards follow".into(),
        by: Some("LM".into()),
        until: until.map(|date| date.parse().unwrap()),
        span: Span::default(),
    };
    let today = "2026-11-25".parse().unwrap();
    let cases = [
        // rule, on, until, home -> covered, expired, matched
        (("thin", None, None, "wrap"), (true, false, true)),
        (("thin", Some("wrap"), None, "wrap"), (true, false, true)),
        (("thin", Some("tape"), None, "wrap"), (false, false, false)),
        (("thin", None, None, "other"), (false, false, false)),
        (("thick", None, None, "wrap"), (false, false, false)),
        // The last day still counts.
        (("thin", None, Some("2026-11-25"), "wrap"), (true, false, true)),
        (("thin", None, Some("2026-11-24"), "wrap"), (false, true, true)),
    ];
    for ((rule, on, until, home), (covered, expired, matched)) in cases {
        let mut findings = judged(&pack, &material("wrap"));
        let waiver = waiver(rule, on, until);
        let outcome = waive(&pack, &mut findings, &[(home.into(), &waiver)], today);
        assert_eq!((outcome[0].expired, outcome[0].matched), (expired, matched), "{rule} {on:?} {until:?} {home}");
        assert_eq!(findings[0].waived.is_some(), covered, "{rule} {on:?} {until:?} {home}");
    }
    let mut errors = vec![Finding::new("syntax", "", Level::Error, Span::default(), "").item(Some("wrap".into()))];
    let outcome = waive(&pack, &mut errors, &[("wrap".into(), &waiver("syntax", None, None))], today);
    assert!(errors[0].waived.is_none() && !outcome[0].matched, "an error of the text cannot be waived");
}

#[test]
fn examples_are_held_against_the_rule() {
    let with = |examples: &str| {
        let text = rule(&format!("needs = 'capped'\n{examples}"));
        let pack = pack(&text);
        // Stands in for a review: the rule fires where the text says `bad`, and `???` cannot be read.
        let review = |text: &str| {
            let at = |word: &str| text.find(word).map(|at| Span::new(FileId::detail(3), at, at + word.len()));
            let fired = at("bad").map(|span| Finding::new("thin", "", Level::Error, span, "is bad"));
            let unread = at("???").map(|span| Finding::new("syntax", "", Level::Error, span, "no statement"));
            fired.into_iter().chain(unread).collect()
        };
        let tested = headlap::rules::test_rule(&pack, &pack.rules[0], &review);
        (text.clone(), tested)
    };
    let (_, good) = with("[[rule.example]]\nfails = '''\nbad\n'''\n[[rule.example]]\npasses = 'good'");
    assert!(good.problems.is_empty() && (good.fails, good.passes) == (1, 1), "{good:?}");
    for (examples, message, under) in [
        ("[[rule.example]]\nfails = 'bad'", "no example that passes", "\"thin\""),
        ("[[rule.example]]\npasses = 'good'", "no example that fails", "\"thin\""),
    ] {
        let (text, tested) = with(examples);
        assert!(tested.problems[0].message.contains(message), "{tested:?}");
        assert_eq!(source(&text).at(tested.problems[0].span), under);
    }
    let (text, tested) = with("[[rule.example]]\nfails = 'good'\n[[rule.example]]\npasses = '''\nso\nbad'''");
    let under: Vec<&str> = tested.problems.iter().map(|p| &text[p.span.range()]).collect();
    assert_eq!(under, ["'good'", "bad"]);
    let (text, tested) = with("[[rule.example]]\nfails = 'bad ???'\n[[rule.example]]\npasses = 'include \"x\"; ???'");
    let under: Vec<&str> = tested.problems.iter().map(|p| &text[p.span.range()]).collect();
    assert_eq!(under, ["???", "???"]);
}

#[test]
fn a_cure_removes_the_finding_and_brings_no_other() {
    // Stands in for a review: each of the words is found by the rule of its name as often as it is written.
    let cured = |fails: &str, cured: &str| {
        let other = rule("needs = 'capped'").replace("thin", "stray");
        let example =
            format!("[[rule.example]]\nfails = '{fails}'\ncured = '{cured}'\n[[rule.example]]\npasses = 'good'");
        let text = rule(&format!("needs = 'capped'\n{example}")) + &other;
        let pack = pack(&text);
        let review = |text: &str| {
            let of = |id: &'static str| {
                text.match_indices(id).map(move |(at, _)| {
                    Finding::new(id, "", Level::Note, Span::new(FileId::detail(3), at, at + id.len()), "here")
                })
            };
            of("thin").chain(of("stray")).chain(of("syntax")).collect()
        };
        let tested = headlap::rules::test_rule(&pack, pack.rule("thin").unwrap(), &review);
        assert_eq!((tested.fails, tested.cures), (1, 1));
        let reported = |p: &Finding| (p.message.clone(), source(&text).at(p.span).to_string());
        tested.problems.iter().map(reported).collect::<Vec<_>>()
    };
    assert_eq!(cured("thin stray", "stray"), []);
    assert_eq!(cured("thin thin", "mended").len(), 0);
    let problem = |message: &str, at: &str| vec![(message.to_string(), at.to_string())];
    assert_eq!(cured("thin thin", "ah thin"), problem("thin still finds this after the cure: here", "thin"));
    assert_eq!(cured("thin", "stray"), problem("the cure brings a new finding of stray: here", "stray"));
    assert_eq!(cured("thin stray", "stray stray"), problem("the cure brings a new finding of stray: here", "stray"));
    assert_eq!(cured("thin", "syntax"), problem("this example cannot be read as meant: here", "syntax"));
}

#[test]
fn the_stock_rules_load() {
    if let Err(problems) = Pack::load(&[]) {
        panic!("{problems:#?}");
    }
}

#[test]
fn fields_are_described_in_words() {
    let words = pack(WORDS).words;
    let lines = fields_of(Kind::Material, &words);
    let of = |name: &str| lines.iter().find(|line| line.name == name).map(|line| line.of.clone());
    assert_eq!(of("thickness").as_deref(), Some("a length"));
    assert_eq!(of("surface").as_deref(), Some("one of concrete, vinyl, wood"));
    assert_eq!(of("holds").as_deref(), Some("any of water, air, vapor, thermal"));
    assert_eq!(of("material").as_deref(), Some("a material"));
}

#[test]
fn controls_without_any_hold_nothing() {
    let none = Material { holds: Controls::NONE, ..material("m") };
    assert_eq!(holds("water in holds", &none), Some(false));
}

mod hostile {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn any_text_loads_or_is_refused(text in "\\PC{0,200}") {
            let _ = load(&text);
        }

        #[test]
        fn any_expression_is_checked_or_refused(
            parts in proptest::collection::vec(
                prop::sample::select(vec![
                    "kind", "thickness", "==", ">=", "1 mm", "R 5", "and", "or", "not", "(", ")", "[", "]", ",", "in",
                    "any(", "count(", "lookup(", "bond", "material", ".", "+", "-", "*", "/", "\"", "0", "é", " ", "-1/2",
                    "\u{200b}", "limit", "min(", "known(",
                ]),
                0..30,
            ),
            blank in prop::bool::ANY,
        ) {
            let needs = parts.join(if blank { " " } else { "" });
            let text = rule(&format!("needs = '''{needs}'''\nsays = '''{{{needs}}}'''\nlimit = '2 mm'"));
            match load(&text) {
                Ok(pack) => { judged(&pack, &thick("m", "1 mm")); }
                Err(found) => {
                    for finding in found {
                        prop_assert!(text.get(finding.span.range()).is_some(), "{finding:?}");
                    }
                }
            }
        }

        #[test]
        fn any_value_of_any_key_is_taken_or_refused(
            key in prop::sample::select(vec![
                "id", "title", "level", "about", "when", "needs", "says", "fix", "at", "per", "basis", "example",
                "except", "replaces", "limit",
            ]),
            value in prop::sample::select(vec![
                "1", "1.5", "true", "[]", "{}", "[1]", "[[]]", "\"\"", "\".\"", "'a.b.c'", "1979-05-27", "nan", "0x10",
                "[{}]", "\"\\u00e9{\"", "'''\n\n'''",
            ]),
        ) {
            let _ = load(&rule(&format!("{key} = {value}")));
        }
    }

    #[test]
    fn depth_has_a_bound() {
        for deep in [
            "(".repeat(20_000),
            "not ".repeat(20_000) + "capped",
            "any(".repeat(5_000),
            "[".repeat(3_000),
            "capped and ".repeat(1_500) + "capped",
            format!("thickness {} > 1 mm", "+ 1 mm ".repeat(2_000)),
        ] {
            let _ = load(&rule(&format!("needs = '{deep}'")));
        }
        let text = rule(&format!("needs = '{}capped{}'", "(".repeat(10_000), ")".repeat(10_000)));
        assert_eq!(at_fault(&text), ("rule-syntax".to_string(), "(".to_string()));
    }
}

/// A list of words that the rule names itself is as near as the words that could stand there.
#[test]
fn a_mistyped_constant_is_reported_where_a_word_could_stand() {
    let text = rule("when = 'kind in laped'\nlapped = [\"sheet\", \"tape\"]");
    let found = problems(&text);
    let reported = found.iter().find(|f| f.message.starts_with("`laped` is unknown here")).expect("a problem");
    assert_eq!(reported.fix.as_deref(), Some("Did you mean `lapped`?"));
}
