//! What rules see of whole details and assemblies: the kinds of things, their parts, their names and their lists.

use std::sync::{Arc, LazyLock};

use headlap::facts::vocabulary::{Fact, Kind};
use headlap::facts::{AssemblyFacts, DetailFacts, FileFacts};
use headlap::finding::Finding;
use headlap::model::SourceMap;
use headlap::rules::{Pack, judge, stock_sources};
use headlap::text::{FileId, Source};

use crate::review::{pack, review_with};

const TEXT: &str = r#"include "stock.detail"

material cover sheet { holds water, air; thickness 0.2 mm; permeance 1 perm }

climate here { zone 4A; indoor 20 C 50 % }

assembly W wall {
  climate here
  outside
  layer cover controls water, air
  layer plywood 12 mm
  layer mineral-wool 140 mm
  inside
}

detail D base-of-wall joins W {
  grade up -200 mm
  exposed 60 days
  installed-at 5 C
  weeps every 600 mm
  slope plumb
  valley along 5 m
  wall-line up 1 m
  fold along 900 mm outside-corner
  piece low wrap-open up to 100 mm along to 800 mm
  piece high cover of W as flap up from 0 mm along to 950 mm
  piece band acrylic-tape up -50 mm to 50 mm bonds low, high rolled
  piece late wrap-open up -300 mm to -100 mm behind low slope 2 %
  seal band to low with butyl-bead up -40 mm
  fasten low with cap-staple every 400 mm up to -60 mm
  waive short-head-lap because "why"
}

set "annex" {
  needs eave of W
}
"#;

/// What the rule that these lines make finds in a text.
fn found(text: &str, lines: &str) -> Vec<(String, Finding)> {
    let asked = reported(text, lines).into_iter().filter(|finding| &*finding.rule == "asked");
    asked.map(|finding| (text[finding.span.range()].to_owned(), finding)).collect()
}

/// What every rule stands on, and one that can be waived: none of the others has a say here, and to read them takes most of
/// the time.
static BASE: LazyLock<Vec<Arc<Source>>> = LazyLock::new(|| {
    let wanted = |source: &Arc<Source>| {
        let about_rules = ["causes.toml", "cures.toml"].iter().any(|name| source.name.ends_with(name));
        !about_rules && !source.text.contains("[[rule]]") || source.name.ends_with("/short-head-lap.toml")
    };
    stock_sources().into_iter().filter(wanted).collect()
});

/// All that is found in a text with the rule that these lines make.
fn reported(text: &str, lines: &str) -> Vec<Finding> {
    let rule = format!("[[rule]]\nid = 'asked'\ntitle = 'Asked'\nlevel = 'note'\n{lines}\n");
    let source = Arc::new(Source::new(FileId::detail(900), "firm/asked.toml", rule));
    let pack = Pack::of(&BASE, &[source]).unwrap_or_else(|problems| panic!("{lines}: {problems:?}"));
    review_with(&pack, &[("a.detail", text)]).findings
}

/// The words under the first finding of a rule that nothing meets.
fn under(about: &str, at: &str) -> String {
    let lines = format!("about = '{about}'\nneeds = 'no'\nsays = 'x'\nat = '{at}'");
    found(TEXT, &lines).first().unwrap_or_else(|| panic!("nothing about a {about}")).0.clone()
}

#[test]
fn a_file_gives_the_things_of_each_kind_and_no_others() {
    let fetch = |_: &str| Err("there is no such file".to_owned());
    let library =
        SourceMap::new(&fetch, &pack().words).read(Arc::new(Source::new(FileId::detail(0), "a.detail", TEXT))).library;
    let assemblies: Vec<_> = library
        .assemblies
        .iter()
        .map(|a| Arc::new(AssemblyFacts::derive(a.clone(), &crate::review::assumed())))
        .collect();
    let details = library
        .details
        .iter()
        .map(|d| DetailFacts::derive(d.clone(), assemblies.clone(), true, &crate::review::assumed()))
        .collect();
    let facts = FileFacts { materials: library.materials.clone(), assemblies, details };
    let items = |kind| facts.around(kind).chain(facts.details.iter().flat_map(move |facts| facts.items(kind).iter()));
    for kind in Kind::ALL {
        assert!(items(kind).all(|item| item.kind() == kind), "{kind:?}");
    }
    let written = [
        (Kind::Material, 1),
        (Kind::Assembly, 1),
        (Kind::Layer, 3),
        (Kind::Detail, 1),
        (Kind::Piece, 4),
        (Kind::Seal, 1),
        (Kind::Bond, 2),
        (Kind::Fastening, 1),
        (Kind::Turn, 1),
        (Kind::Tuck, 1),
    ];
    for (kind, count) in written {
        assert_eq!(items(kind).count(), count, "{kind:?}");
    }
}

#[test]
fn a_finding_stands_under_the_part_that_its_rule_names() {
    for (about, at, words) in [
        ("material", "", "cover"),
        ("material", "name", "cover"),
        ("material", "holds", "holds water, air"),
        ("assembly", "", "W"),
        ("assembly", "name", "W"),
        ("assembly", "kind", "wall"),
        ("layer", "", "cover"),
        ("layer", "line", "layer cover controls water, air"),
        ("layer", "controls", "water, air"),
        ("detail", "", "D"),
        ("detail", "name", "D"),
        ("detail", "kind", "base-of-wall"),
        ("detail", "joins", "W"),
        ("detail", "grade", "grade up -200 mm"),
        ("detail", "exposed", "exposed 60 days"),
        ("detail", "installed-at", "installed-at 5 C"),
        ("detail", "weeps", "weeps every 600 mm"),
        ("detail", "slope", "slope plumb"),
        ("detail", "valley", "valley along 5 m"),
        ("detail", "wall-line", "wall-line up 1 m"),
        ("piece", "", "low"),
        ("piece", "name", "low"),
        ("piece", "material", "wrap-open"),
        ("piece", "line", "piece low wrap-open up to 100 mm along to 800 mm"),
        ("piece", "up", "up to 100 mm"),
        ("piece", "along", "along to 800 mm"),
        ("fastening", "every", "every 400 mm"),
        ("fastening", "fastener", "cap-staple"),
        ("fastening", "line", "fasten low with cap-staple every 400 mm up to -60 mm"),
        ("seal", "", "seal band to low with butyl-bead up -40 mm"),
        ("bond", "", "low"),
        ("turn", "", "fold along 900 mm outside-corner"),
        ("tuck", "", "low"),
        ("need", "", "needs eave of W"),
        ("waiver", "", "short-head-lap"),
    ] {
        assert_eq!(under(about, at), words, "{about} {at:?}");
    }
}

/// The words under the findings about the pieces of one name.
fn under_piece(name: &str, at: &str) -> String {
    let place = TEXT.find(&format!("piece {name}")).expect("a piece");
    let lines = format!("about = 'piece'\nneeds = 'no'\nsays = 'x'\nat = '{at}'");
    let found = found(TEXT, &lines).into_iter().find(|(_, finding)| finding.span.start as usize > place);
    found.expect("a finding").0
}

#[test]
fn where_a_list_has_nothing_to_point_to_the_thing_itself_is_shown() {
    assert_eq!(under("fastening", "piece.bonds.up"), under("fastening", ""));
}

#[test]
fn a_part_that_only_some_pieces_have_is_theirs() {
    assert_eq!(under_piece("high", "role"), "flap");
    assert_eq!(under_piece("late", "slope"), "slope 2 %");
    assert_eq!(under_piece("band", "bonds"), "low, high");
    // A piece without it is pointed to by its name.
    assert_eq!(under_piece("late", "role"), "late");
}

#[test]
fn things_go_by_their_names_and_belong_to_their_homes() {
    let reported = |about: &str, says: &str| {
        let lines = format!("about = '{about}'\nneeds = 'no'\nsays = '{says}'");
        let finding = found(TEXT, &lines).into_iter().next().unwrap_or_else(|| panic!("nothing about a {about}")).1;
        (finding.message.clone(), finding.subject.join(" "), finding.item.as_deref().unwrap_or_default().to_owned())
    };
    let say = |message: &str, subject: &str, home: &str| (message.to_owned(), subject.to_owned(), home.to_owned());
    assert_eq!(reported("layer", "{assembly} has it"), say("W has it", "W", "W"));
    assert_eq!(reported("assembly", "x"), say("x", "W", "W"));
    assert_eq!(reported("need", "x"), say("x", "eave", "annex"));
    assert_eq!(reported("waiver", "x"), say("x", "short-head-lap", "D"));
    assert_eq!(reported("material", "x"), say("x", "cover", "cover"));
    assert_eq!(reported("edge", "x"), say("x", "high", "D"));
    assert_eq!(reported("turn", "x"), say("x", "high", "D"));
    assert_eq!(reported("meeting", "x").1, "low");
    assert_eq!(reported("lap", "{over}, {under}, {over}"), say("`high`, `low`, `high`", "high low", "D"));
}

/// A line that cannot be read, or an undefined name, leaves nothing to be judged of the thing and of what it is in.
#[test]
fn rules_are_silent_about_what_is_in_doubt() {
    let count = |text: &str, about: &str| found(text, &format!("about = '{about}'\nneeds = 'no'\nsays = 'x'")).len();
    let strange =
        TEXT.replace("layer plywood 12 mm", "layer plywod 12 mm").replace("piece low wrap-open", "piece low wrap-opn");
    for (about, sound, doubtful) in [
        ("layer", 3, 2),
        ("assembly", 1, 0),
        ("detail", 1, 0),
        ("piece", 4, 3),
        ("bond", 2, 1),
        ("seal", 1, 0),
        ("fastening", 1, 0),
        ("tuck", 1, 0),
        ("transition", 1, 0),
    ] {
        assert_eq!((count(TEXT, about), count(&strange, about)), (sound, doubtful), "{about}");
    }
    let lap = |text: &str| found(text, "about = 'lap'\nwhen = 'over.kind == sheet'\nneeds = 'no'\nsays = 'x'").len();
    assert!(lap(TEXT) > 0);
    assert_eq!(lap(&strange), 0);
    let edge = |text: &str| found(text, "about = 'edge'\nneeds = 'no'\nsays = '{piece}'").len();
    assert_eq!(edge(TEXT), edge(&strange), "the edges of the sheet that is known stay");
    assert_eq!(edge(&TEXT.replace("high cover of", "high covr of")), 0);
}

/// One piece runs off the detail, so that its top is not known; how many tops lie high is not known either.
#[test]
fn what_is_unknown_of_one_cannot_be_counted() {
    let asks = |needs: &str| found(TEXT, &format!("about = 'detail'\nneeds = '{needs}'\nsays = 'x'")).len();
    assert_eq!((asks("count(pieces, top > 0 mm) > 9"), asks("count(pieces, top > 0 mm) < 9")), (0, 0));
    assert_eq!(
        (asks("count(pieces, known(top) and top > 0 mm) == 2"), asks("count(pieces, not known(top)) == 1")),
        (0, 0)
    );
    assert_eq!(asks("count(pieces, known(top)) == 4"), 1);
}

/// A piece of no role, of a material that does not say what it sticks with: that can be added.
#[test]
fn of_two_words_that_are_not_known_the_one_with_a_name_is_reported() {
    let text = "material plain sheet { holds water; thickness 0.2 mm; permeance 1 perm }\n\
                assembly C existing { outside; layer plain; inside }\ndetail D course joins C { piece a plain }\n";
    for needs in ["role == adhesive", "adhesive == role"] {
        let missing = reported(text, &format!("about = 'piece'\nneeds = '{needs}'\nsays = 'x'"));
        let fixes: Vec<_> = missing.iter().filter_map(|finding| finding.fix.as_deref()).collect();
        assert_eq!(fixes, ["Add `adhesive` to the material plain."], "{needs}");
    }
}

#[test]
fn two_things_of_one_kind_are_not_the_same() {
    assert!(found(TEXT, "about = 'lap'\nneeds = 'over != under'\nsays = 'x'").is_empty());
    assert!(found(TEXT, "about = 'tuck'\nneeds = 'piece != behind'\nsays = 'x'").is_empty());
}

const FILMS: &str = "include \"stock.detail\"\nmaterial film sheet { thickness 1 in; permeance 0.1 perm }\n\
                     assembly W existing {\n  outside\n  layer film\n  layer plywood 30 mm\n  layer mineral-wool 140 mm\n  \
                     layer film 30 mm\n  inside\n}\n";

/// Whether a rule finds the assembly, or layer, of the films wanting.
fn wants(about: &str, needs: &str) -> bool {
    !found(FILMS, &format!("about = '{about}'\nneeds = '{needs}'\nsays = 'x'")).is_empty()
}

#[test]
fn a_thing_is_looked_for_in_a_list_of_things() {
    assert!(!wants("assembly", "sheathing in layers"));
    assert!(wants("assembly", "sheathing not in layers"));
}

/// One film on both sides: two layers of one name.
#[test]
fn what_has_one_name_at_two_places_is_two_things() {
    assert!(!wants("assembly", "retarder != outer"));
    assert!(wants("assembly", "retarder == outer"));
    let reported = found(FILMS, "about = 'assembly'\nneeds = 'no'\nsays = '{outer}, {retarder}, {outer}'");
    assert_eq!(reported[0].1.subject.join(" "), "film film");
}

#[test]
fn of_two_facts_the_first_gives_the_unit() {
    let says = |sentence: &str| {
        let lines = format!("about = 'layer'\nwhen = 'position == 3'\nneeds = 'no'\nsays = '{sentence}'");
        found(FILMS, &lines)[0].1.message.clone()
    };
    // 30 mm here, and 1 in as it is sold.
    assert_eq!(says("{thickness - material.thickness}"), "4.6 mm");
    assert_eq!(says("{material.thickness - thickness}"), "-1/4 in");
}

/// What the notes about the last assembly of a text say is to be added, when this is all that is asked.
fn to_add(text: &str, needs: &str) -> Vec<String> {
    let rule = format!(
        "[[rule]]\nid = 'asked'\ntitle = 'Asked'\nlevel = 'note'\nabout = 'assembly'\nneeds = '{needs}'\nsays = 'x'\n"
    );
    let source = Arc::new(Source::new(FileId::detail(900), "firm/asked.toml", rule));
    let alone = Pack::of(&[], &[source]).unwrap_or_else(|problems| panic!("{needs}: {problems:?}"));
    let fetch = |_: &str| Err("there is no such file".to_owned());
    let source_map = SourceMap::new(&fetch, &pack().words);
    let reading = source_map.read(Arc::new(Source::new(FileId::detail(0), "a.detail", text)));
    let facts = AssemblyFacts::derive(
        reading.library.assemblies.last().expect("an assembly").clone(),
        &crate::review::assumed(),
    );
    judge(&alone, [Fact::Assembly(&facts)])
        .into_iter()
        .filter_map(|note| note.fix.as_deref().map(str::to_owned))
        .collect()
}

const MONTHS: &str = "outdoor jan 0 C 80 %; outdoor feb 0 C 80 %; outdoor mar 5 C 80 %; outdoor apr 9 C 80 %; outdoor may 14 C 80 %; \
                      outdoor jun 17 C 80 %; outdoor jul 19 C 80 %; outdoor aug 18 C 80 %; outdoor sep 15 C 80 %; \
                      outdoor oct 10 C 80 %; outdoor nov 5 C 80 %; outdoor dec 1 C 80 %";

#[test]
fn what_a_number_lacks_is_named_where_somebody_asked_for_it() {
    let design =
        "design outdoor -5 C 80 % indoor 20 C 50 % for 90 days; drying vapor 1200 Pa saturation 1700 Pa for 90 days";
    let text = |climate: &str| {
        let (given, named) = if climate.is_empty() {
            (String::new(), "")
        } else {
            (format!("climate here {{ indoor 20 C 50 %; {climate} }}"), "climate here")
        };
        format!(
            "include \"stock.detail\"\nmaterial film sheet {{ thickness 0.2 mm }}\n{given}\nassembly W existing {{\n  {named}\n  outside\n  \
             layer mineral-wool 140 mm\n  layer film\n  inside\n}}\n"
        )
    };
    let add = ["Add `permeance` to the material film."];
    // The retarder is not known while its permeance is not; so is all that would be asked of it.
    assert_eq!(to_add(&text(""), "retarder.thickness > 1 mm"), add);
    assert_eq!(to_add(&text(""), "responsive"), add);
    assert_eq!(to_add(&text(MONTHS), "condensation-peak < 1 kg/m2"), add);
    assert_eq!(to_add(&text(design), "design-condensate < 1 kg/m2"), add);
    // Without such a climate it is not asked for.
    assert_eq!(to_add(&text(MONTHS), "design-condensate < 1 kg/m2"), [""; 0]);
    assert_eq!(to_add(&text(""), "design-condensate < 1 kg/m2"), [""; 0]);
    assert_eq!(to_add(&text(""), "condensation-peak < 1 kg/m2"), [""; 0]);
}

/// Wool takes no harm from water and its frames do, so that it is they that have to dry.
#[test]
fn a_framed_layer_dries_as_its_frames_do() {
    let dries = |frames: &str| {
        let text = format!(
            "include \"stock.detail\"\nclimate here {{ indoor 20 C 50 %; {MONTHS} }}\nassembly W existing {{ climate here; outside; \
             layer plywood 12 mm; layer mineral-wool 140 mm {frames}; layer gypsum 12.5 mm; inside }}\n"
        );
        let lines = "about = 'layer'\nwhen = 'material.kind == fill'\nneeds = 'not known(drying-months)'\nsays = 'x'";
        !found(&text, lines).is_empty()
    };
    assert!(dries("between spruce 38 mm at 400 mm") && !dries(""));
}

/// What the text says of a layer and could not be read is not asked for again on behalf of the next layer.
#[test]
fn what_a_layer_needs_of_one_that_cannot_be_read_is_not_asked_for() {
    let missing = |slab: &str, needs: &str| {
        let text = format!(
            "material slab mass {{ conductivity 1 W/m.K; mu 10 }}\nmaterial skin sheet {{ thickness 0.2 mm; permeance 1 perm }}\n\
             climate here {{ indoor 20 C 50 %; {MONTHS} }}\n\
             assembly W existing {{ climate here; outside; layer {slab}; layer skin; inside }}\n"
        );
        let reported = reported(&text, &format!("about = 'layer'\nneeds = '{needs}'\nsays = 'x'"));
        let missing = reported.into_iter().filter(|finding| &*finding.rule == "missing-property");
        missing.filter_map(|finding| finding.fix.clone()).map(|fix| fix.to_string()).collect::<Vec<_>>()
    };
    for needs in ["any(outboard, thickness > 1 m)", "drying-months < 3", "assembly.condensation-peak < 1 kg/m2"] {
        assert_eq!(missing("slab", needs), ["Add `thickness` to the material slab."], "{needs}");
        assert_eq!(missing("slab 100 perm", needs), [""; 0], "{needs}");
    }
}

#[test]
fn the_side_of_the_insulation_without_a_layer_is_open() {
    let fires = |layers: &str, needs: &str| {
        let text = format!("include \"stock.detail\"\nassembly W existing {{ outside; {layers}; inside }}\n");
        !found(&text, &format!("about = 'assembly'\nneeds = '{needs}'\nsays = 'x'")).is_empty()
    };
    let (open, tight) = ("retarder-class != open", "retarder-class == open");
    assert!(fires("layer plywood 12 mm; layer mineral-wool 140 mm", open));
    // Without insulation there is no warm side to speak of.
    assert!(!fires("layer plywood 12 mm", open) && !fires("layer plywood 12 mm", tight));
}

#[test]
fn a_material_of_an_unknown_kind_is_not_judged() {
    let count = |kind: &str| {
        let text = format!("include \"stock.detail\"\nmaterial film {kind} {{ thickness 1 in }}\n");
        found(&text, "about = 'material'\nneeds = 'no'\nsays = 'x'").len()
    };
    assert_eq!((count("sheet"), count("sheeet")), (1, 0));
}

/// The words of the path of the first drop that does this.
fn way(body: &str, event: &str) -> Vec<String> {
    let text = format!(
        "include \"stock.detail\"\nassembly C existing {{ outside; layer concrete 200 mm; inside }}\ndetail D course joins C {{\n{body}\n}}\n"
    );
    let lines = format!("about = 'drop'\nwhen = 'event == {event}'\nneeds = 'no'\nsays = 'x'");
    found(&text, &lines)[0].1.trail.iter().map(|step| step.message.to_string()).collect()
}

#[test]
fn the_way_behind_a_cladding_begins_there() {
    let first = |boards: &str| {
        let wall = "piece deck plywood\npiece high wrap-open up from 0 mm\npiece low wrap-open up to 150 mm";
        way(&format!("{wall}\n{boards}"), "reverse").remove(0)
    };
    assert_eq!(first("piece boards cedar-boards"), "rain gets behind the outer layers and runs down `high` from above");
    assert_eq!(first("piece boards cedar-boards up to 500 mm"), "rain runs down `high` from above");
    assert_eq!(
        first("piece boards cedar-boards up to 500 mm\nsheltered up from 400 mm"),
        "rain gets behind the outer layers and meets `high` at 400 mm"
    );
}

#[test]
fn a_water_path_says_where_it_starts_and_where_it_leaves() {
    let band = |wrap: &str| format!("piece wrap wrap-open {wrap}\npiece band acrylic-tape up 0 mm to 50 mm");
    assert_eq!(
        way(&band(""), "reverse"),
        [
            "rain runs down `wrap` from above",
            "runs down `wrap` to 50 mm and gets behind `band`",
            "runs off down `wrap`"
        ]
    );
    assert_eq!(
        way(&band("up -100 mm to 300 mm with drip"), "reverse"),
        [
            "rain meets `wrap` at 300 mm",
            "runs down `wrap` to 50 mm and gets behind `band`",
            "drips off `wrap` at -100 mm"
        ]
    );
    assert_eq!(
        way("piece deck plywood\nsheltered up from 500 mm", "bare"),
        ["rain meets `deck` at 500 mm", "wets `deck` at 500 mm"]
    );
    // Behind a seal that is lost it runs down what that piece was sealed to.
    assert_eq!(
        way(
            "piece deck plywood\npiece low concrete up to 0 mm\npiece high concrete up from 0 mm\n\
             piece tape acrylic-tape up -40 mm to 40 mm bonds low, high",
            "relies"
        ),
        [
            "gets behind `tape` at 40 mm once its seal fails",
            "runs down `high` to 0 mm and gets behind `low`",
            "drops from `high` onto `deck` at 0 mm",
            "wets `deck` at 0 mm"
        ]
    );
}

/// The facts of the last detail of a text.
pub fn detail(body: &str) -> DetailFacts {
    let text = format!(
        "include \"stock.detail\"\nassembly C existing {{ outside; layer concrete 200 mm controls air; inside }}\n\
         detail D course joins C {{\n{body}\n}}\n"
    );
    let fetch = |_: &str| Err("there is no such file".to_owned());
    let source_map = SourceMap::new(&fetch, &pack().words);
    let reading = source_map.read(Arc::new(Source::new(FileId::detail(0), "a.detail", text)));
    DetailFacts::derive(
        reading.library.details.last().expect("a detail").clone(),
        Vec::new(),
        true,
        &crate::review::assumed(),
    )
}

#[test]
fn lengths_are_shown_in_the_unit_that_most_are_written_in() {
    let unit = |body: &str| detail(body).length_unit.symbol;
    assert_eq!(
        unit("piece a wrap-open up 1 in to 2 in along from 3 in\npiece b wrap-open up 1 mm to 2 mm along 3 mm to 4 mm"),
        "mm"
    );
    assert_eq!(unit("piece a wrap-open up 1 mm to 2 mm\npiece b wrap-open up 1 in to 2 in along from 3 in"), "in");
    // The first one met wins a tie.
    assert_eq!(unit("piece a wrap-open up 1 ft to 2 ft\npiece b wrap-open up 1 mm to 2 mm"), "ft");
}

#[test]
fn nothing_in_any_unit_says_nothing_of_its_author() {
    let facts = detail(
        "piece a wrap-open up 0 mm to 4 in\npiece b wrap-open up from 0 mm\npiece c wrap-open up 1 in to 2 in along from 3 in",
    );
    let units: Vec<&str> = (0..3).map(|piece| facts.length_unit_of(piece).symbol).collect();
    assert_eq!(units, ["in", "in", "in"]);
}

#[test]
fn lists_are_written_with_commas_and_an_and() {
    let film = "include \"stock.detail\"\nmaterial film sheet { holds water, air, vapor; thickness 0.2 mm }\n";
    let says =
        |text: &str| found(text, "about = 'material'\nneeds = 'no'\nsays = 'holds {holds}'")[0].1.message.clone();
    assert_eq!(says(film), "holds water, air and vapor");
    assert_eq!(says(&film.replace("water, air, vapor", "water, air")), "holds water and air");
    assert_eq!(says(&film.replace("water, air, vapor", "air")), "holds air");
    assert_eq!(says(&film.replace("holds water, air, vapor; ", "")), "holds nothing");
}

#[test]
fn a_permeance_is_shown_in_its_authors_unit_or_in_perm() {
    let says = |given: &str| {
        let text = format!("include \"stock.detail\"\nmaterial film sheet {{ thickness 1 in; {given} }}\n");
        found(&text, "about = 'material'\nneeds = 'no'\nsays = '{permeance}'")[0].1.message.clone()
    };
    assert_eq!(says("permeance 60 ng/Pa.s.m2"), "60 ng/Pa.s.m2");
    assert_eq!(says("permeance 3 perm"), "3 perm");
    assert_eq!(says("permeability 3 perm.in"), "3 perm");
}

/// A limit of a rule is shown as the rule has it, and to authors of the other system first as the trade rounds it there: 150 mm
/// is its 6 in, 102 mm its 4 in, and what is thinner than anything cut to length is shown in mil.
#[test]
fn limits_are_shown_in_both_systems() {
    let says = |lines: &str, thickness: &str| {
        let text = format!(
            "include \"stock.detail\"\nassembly W existing {{ outside; layer concrete {thickness}; inside }}\n"
        );
        let lines = format!("about = 'layer'\nneeds = 'thickness > 100 m'\n{lines}");
        found(&text, &lines)[0].1.message.clone()
    };
    for (limit, thickness, reported) in [
        ("150 mm", "1 in", "6 in (150 mm)"),
        ("102 mm", "1 in", "4 in (102 mm)"),
        ("100 mm", "1 in", "4 in (100 mm)"),
        ("38 mm", "1 in", "1-1/2 in (38 mm)"),
        ("19 mm", "1/8 in", "3/4 in (19 mm)"),
        ("11 mm", "1/8 in", "1/2 in (11 mm)"),
        ("0.15 mm", "1 mil", "6 mil (0.15 mm)"),
        ("0.25 mm", "1 mil", "10 mil (0.25 mm)"),
        ("6 in", "1 mm", "152 mm (6 in)"),
        ("1/2 in", "1 mm", "13 mm (1/2 in)"),
        ("6 mil", "0.1 mm", "0.15 mm (6 mil)"),
        ("10 mil", "0.1 mm", "0.25 mm (10 mil)"),
        ("6 in", "1 in", "6 in"),
    ] {
        let lines = format!("says = '{{limit}}'\nlimit = '{limit}'");
        assert_eq!(says(&lines, thickness), reported, "{limit} {thickness}");
    }
    // A cell of a table is a limit of the rule as well.
    // So is what is worked out of limits alone.
    assert_eq!(says("says = '{limit + limit}'\nlimit = '75 mm'", "1 in"), "6 in (150 mm)");
    assert_eq!(says("says = '{max(limit, 102 mm)}'\nlimit = '75 mm'", "1 in"), "4 in (102 mm)");
    // Only lengths have two systems here.
    assert_eq!(says("says = '{limit}'\nlimit = '1 perm'", "1 in"), "1 perm");
    let table = "[[table]]\nname = 'least'\ntitle = 'Least'\nkeys = ['material-kind']\nrows = [['mass', '0.15 mm']]\nbasis = [{ known = 'practice' }]";
    assert_eq!(says(&format!("says = '{{lookup(least, kind)}}'\n{table}"), "1 in"), "6 mil (0.15 mm)");
}

/// What the first finding of a rule that nothing meets says.
fn says(text: &str, about: &str, when: &str, sentence: &str) -> String {
    let lines = format!("about = '{about}'\nwhen = '{when}'\nneeds = 'no'\nsays = '{sentence}'");
    found(text, &lines).first().unwrap_or_else(|| panic!("no {about} with {when}")).1.message.clone()
}

#[test]
fn a_piece_and_a_drop_have_their_places() {
    assert_eq!(
        says(TEXT, "piece", "clearance > 0 mm", "{piece} is piece {index}, {clearance} up"),
        "`high` is piece 2, 200 mm up"
    );
    assert_eq!(says(TEXT, "piece", "bonded", "{piece} is piece {index}"), "`band` is piece 3");
    let course = |body: &str| {
        format!(
            "include \"stock.detail\"\nassembly C existing {{ outside; layer concrete 200 mm; inside }}\n\
             detail D course joins C {{\n{body}\n}}\n"
        )
    };
    let band = course("piece wrap wrap-open\npiece band acrylic-tape up 0 mm to 50 mm");
    assert_eq!(says(&band, "drop", "event == reverse", "{piece} at {height}"), "`band` at 50 mm");
    // What is bare from above all the way down is so at no height in particular.
    assert_eq!(
        says(&course("piece deck plywood"), "drop", "event == bare", "{piece} at {height}"),
        "`deck` at unknown"
    );
}

#[test]
fn a_layer_has_its_neighbours_and_its_shelter() {
    let text = "include \"stock.detail\"\nassembly W existing {\n  outside\n  layer cedar-boards 19 mm\n  layer vented-gap 19 mm\n  \
                layer plywood 12 mm\n  layer mineral-wool 140 mm\n  layer gypsum 12.5 mm\n  inside\n}\n";
    let of = |position: usize, sentence: &str| says(text, "layer", &format!("position == {position}"), sentence);
    assert_eq!(of(2, "{outboard} / {inboard}"), "`vented-gap` and `cedar-boards` / `mineral-wool` and `gypsum`");
    assert_eq!(of(4, "{count(inboard)} {count(outboard)}"), "0 4");
    // The gap stands for the outdoor air, and what lies inboard of it is out of the rain.
    assert_eq!([0, 2, 4].map(|position| of(position, "{sheltered}")), ["no", "yes", "yes"]);
}

#[test]
fn the_assembly_that_shows_no_control_layer_is_named() {
    let text = |first: &str, second: &str| {
        format!(
            "include \"stock.detail\"\nassembly F existing {{ outside; layer concrete 200 mm controls air; inside }}\n\
             assembly W existing {{ outside; layer wrap-open controls air; inside }}\ndetail D base-of-wall joins F to W {{\n  \
             piece stem concrete {first} up to 0 mm\n  piece wrap wrap-open {second} up from -40 mm\n}}\n"
        )
    };
    let named = |first: &str, second: &str| says(&text(first, second), "transition", "control == air", "{missing}");
    assert_eq!(named("of F", ""), "W");
    assert_eq!(named("", "of W"), "F");
    assert_eq!(named("of F", "of W"), "unknown");
}

/// Whether the words that a surface is held against are written out or have a name.
#[test]
fn a_missing_word_is_found_beside_every_kind_of_list() {
    // Nothing uses the material, so that no other rule asks for its surface.
    let text = "material plain sheet { holds water; thickness 0.2 mm; permeance 1 perm }\n";
    for (needs, more) in [
        ("surface in [coated, vinyl]", ""),
        ("surface in faces", "faces = ['coated', 'vinyl']"),
        ("surface == coated", ""),
    ] {
        let missing = reported(text, &format!("about = 'material'\nneeds = '{needs}'\nsays = 'x'\n{more}"));
        let fixes: Vec<_> = missing.iter().filter_map(|finding| finding.fix.as_deref()).collect();
        assert_eq!(fixes, ["Add `surface` to the material plain."], "{needs}");
    }
}

/// A bead at the wrong height and an end that cannot hold are reported as such; rules about breaks ask for both.
#[test]
fn a_break_says_whether_a_joint_could_close_it_and_whether_a_bead_misses_it() {
    let breaks = |wall: &str, bead: &str, when: &str| {
        let text = format!(
            "include \"stock.detail\"\nassembly F existing {{ outside; layer concrete 200 mm controls air; inside }}\n\
             assembly W existing {{ outside; layer {wall} controls air; inside }}\n\
             detail D base-of-wall joins F to W {{\n  piece stem concrete of F up to 0 mm\n  \
             piece wall {wall} of W up from -100 mm\n  {bead}\n}}\n"
        );
        !found(&text, &format!("about = 'transition'\nwhen = '{when}'\nneeds = 'continuous'\nsays = 'x'")).is_empty()
    };
    let film_and_bead = "piece film poly-6mil up -200 mm to 200 mm along from 0 mm behind wall\n  \
                         seal wall to stem with butyl-bead up -50 mm";
    for (wall, bead, able, misplaced) in [
        ("wrap-open", "", true, false),
        ("mineral-wool", "", false, false),
        ("wrap-open", "seal stem to wall with butyl-bead up 300 mm", true, true),
        ("wrap-open", "seal wall to stem with butyl-bead up 300 mm", true, true),
        // It joins them up to the film that keeps them apart.
        ("wrap-open", film_and_bead, true, false),
    ] {
        assert_eq!(breaks(wall, bead, "able"), able, "{wall} {bead}");
        assert_eq!(breaks(wall, bead, "misplaced-bead"), misplaced, "{wall} {bead}");
    }
    assert!(!breaks("wrap-open", "seal wall to stem with butyl-bead up -50 mm", "able or not able"));
}

/// Of several rows the lowest that stands over the flashing counts; a row without a height is at the foot.
#[test]
fn weeps_rise_from_the_foot_of_what_stands_over_the_flashing() {
    let rise = |weeps: &str| {
        let text = format!(
            "include \"stock.detail\"\nassembly C existing {{ outside; layer concrete 200 mm; inside }}\n\
             detail D head joins C {{\n  piece lintel rubber-flashing up 2 m to 2.3 m\n  \
             piece veneer brick-veneer up from 0 mm\n  cut veneer up 1 m to 2.1 m\n  {weeps}\n}}\n"
        );
        let lines = "about = 'lap'\nneeds = 'no'\nsays = '{weep-rise}'\nat = 'weeps'";
        found(&text, lines).into_iter().map(|(words, finding)| (finding.message.clone(), words)).next().expect("a lap")
    };
    let reported = |rise: &str, words: &str| (rise.to_owned(), words.to_owned());
    assert_eq!(rise("weeps every 1 ft"), reported("0 m", "weeps every 1 ft"));
    assert_eq!(rise("weeps every 1 ft up 0 m; weeps every 2 ft up 3 m; weeps every 3 ft up 2.2 m").0, "0.1 m");
    assert_eq!(rise("weeps every 1 ft up 3 m; weeps every 3 ft up 2.2 m").1, "weeps every 3 ft up 2.2 m");
    // Over the flashing and below the veneer, in the bed joint.
    assert_eq!(rise("weeps every 1 ft up 2 m").0, "-0.1 m");
    // Below the flashing they drain something else.
    assert_eq!(rise("weeps every 1 ft up 1.9 m"), rise(""));
}

/// On a level face nothing but a bead in the lap keeps water out of it.
#[test]
fn a_bead_beside_its_lap_leaves_the_seam_open() {
    let seam = |bead: &str| {
        let text = format!(
            "include \"stock.detail\"\nassembly C existing {{ outside; layer concrete 200 mm; inside }}\n\
             detail D course joins C {{\n  slope level\n  piece low wrap-open up to 100 mm\n  \
             piece high wrap-open up from 0 mm\n  seal high to low with butyl-bead{bead}\n}}\n"
        );
        found(&text, "about = 'lap'\nneeds = 'seam-watertight'\nsays = 'x'\nat = 'over'").len()
    };
    assert_eq!([seam(""), seam(" up 50 mm"), seam(" up 100 mm"), seam(" along 0 mm")], [0; 4]);
    assert_eq!([seam(" up 300 mm"), seam(" up -200 mm")], [1; 2]);
}

/// What is laid on it sticks to its outer face, and needs no words.
#[test]
fn a_tape_with_two_adhesive_faces_seals_what_is_laid_on_it() {
    let seam = |tape: &str| {
        let text = format!(
            "include \"stock.detail\"\nassembly C existing {{ outside; layer concrete 200 mm; inside }}\n\
             detail D course joins C {{\n  slope level\n  piece low epdm-membrane up to 100 mm\n  \
             piece tape {tape} up 20 mm to 80 mm bonds low\n  piece high epdm-membrane up from 0 mm\n}}\n"
        );
        let rule = "about = 'lap'\nwhen = 'over.kind == sheet and under.kind == sheet'\nneeds = 'sealed'\nsays = 'x'\nat = 'over'";
        found(&text, rule).len()
    };
    assert_eq!((seam("double-sided-tape"), seam("butyl-flashing")), (0, 1));
}

#[test]
fn a_slot_is_a_cut_from_side_to_side() {
    let slotted = |cut: &str| {
        let text = format!(
            "include \"stock.detail\"\nassembly C existing {{ outside; layer concrete 200 mm; inside }}\n\
             detail D course joins C {{\n  piece deck plywood along 0 mm to 900 mm\n  {cut}\n}}\n"
        );
        found(&text, "about = 'piece'\nneeds = 'slotted'\nsays = 'x'\nat = ''").is_empty()
    };
    assert!(slotted("cut deck up 0 mm to 25 mm"));
    assert!(slotted("cut deck up from 0 mm along 0 mm to 900 mm"));
    assert!(!slotted("cut deck up 0 mm to 25 mm along 0 mm to 899 mm"));
    assert!(!slotted(""));
}

/// Sealed to a sheet of the next assembly that goes on, the edge is a seam; beside a unit over which a sheet comes down, the detail
/// shows nothing of the wall.
#[test]
fn edges_that_the_next_sheet_takes_on_are_not_free() {
    let open = |lines: &str| {
        let text = format!(
            "include \"stock.detail\"\nassembly W wall {{ outside; layer wrap-open controls water, air; layer plywood 12 mm; inside }}\n\
             assembly R roof {{ outside; layer roof-membrane controls water, air; layer plywood 12 mm; inside }}\n\
             assembly O opening {{ outside; layer window-vinyl controls water, air; inside }}\n{lines}\n"
        );
        let rule = "about = 'edge'\nwhen = 'free and side in [top, bottom] and piece.kind == sheet'\nneeds = 'sealed'\nsays = 'x'\nat = ''";
        found(&text, rule).len()
    };
    let roof = |seal: &str| {
        open(&format!(
            "detail D roof-to-wall joins R to W {{\n  piece up roof-membrane of R up to 200 mm\n  piece wrap wrap-open of W up from 0 mm\n  {seal}\n}}"
        ))
    };
    // Farther from either edge than a bead reaches.
    assert_eq!((roof("seal wrap to up with butyl-bead up 100 mm"), roof("")), (0, 2));
    let head = |along: &str, seal: &str| {
        open(&format!(
            "detail D head joins W to O {{\n  fold up 0 mm head\n  piece deck plywood of W up from 0 mm\n  piece unit window-vinyl of O up to 30 mm{along}\n  \
             piece tape flash-tape up 0 mm to 100 mm{along} bonds unit, deck rolled\n  piece wrap wrap-open of W up from 25 mm\n  {seal}\n}}"
        ))
    };
    let bead = "seal wrap to tape with butyl-bead up 90 mm";
    assert_eq!((head("", bead), head(" along 0 mm to 900 mm", bead)), (0, 0));
    assert_eq!(head(" along 0 mm to 900 mm", ""), 1);
}
