//! What facts take for granted: one table, read and checked as rules are, and changed as limits are.

use std::sync::Arc;

use headlap::facts::face::MILLIMETRE;
use headlap::rules::{Pack, read_adjustments};
use headlap::text::{FileId, Source};

use crate::command::{run, scratch, write};

fn source(name: &str, text: &str) -> Arc<Source> {
    Arc::new(Source::new(FileId::detail(9), name, text))
}

/// The stock rules after an adjustment, or the words at fault and what is said of them.
fn adjusted(settings: &str) -> Result<Pack, Vec<(String, String)>> {
    let source = source("headlap.toml", settings);
    let table = toml::de::DeTable::parse(settings).expect("good TOML");
    let adjust = table.get_ref()["adjust"].get_ref().as_table().expect("a table");
    let mut pack = Pack::load(&[]).unwrap_or_else(|_| panic!("the stock rules load"));
    let reported = read_adjustments(&source, adjust).and_then(|list| pack.adjust(&list));
    let at_fault = |found: Vec<headlap::finding::Finding>| {
        found.into_iter().map(|f| (source.at(f.span).to_owned(), f.message.clone())).collect()
    };
    reported.map(|()| pack).map_err(at_fault)
}

fn assume(line: &str) -> Result<Pack, Vec<(String, String)>> {
    adjusted(&format!("[adjust.assumed]\n{line}\nbecause = \"our office\"\n"))
}

#[test]
fn a_project_changes_what_is_taken_for_granted() {
    let pack = assume("bead-reach = \"60 mm\"").expect("a length");
    assert_eq!(pack.assumed.limits.bead_reach, 60 * MILLIMETRE);
    assert_eq!(pack.assumed.limits.fillet, crate::review::assumed().limits.fillet);
    assert_eq!(pack.assumed_table.adjusted, ["bead-reach 60 mm instead of 2 in: our office"]);
    let pack = assume("catching-roles = [\"pan\", \"cricket\"]").expect("roles");
    assert!(pack.assumed.catches("cricket") && !pack.assumed.catches("through-wall-flashing"));
}

#[test]
fn what_cannot_be_taken_for_granted_is_refused_at_its_place() {
    for (line, at, said) in [
        (
            "bead-reach = \"2 perm\"",
            "\"2 perm\"",
            "this value for `bead-reach` is a vapor permeance; expected a length",
        ),
        ("bead-reach = \"-1 mm\"", "\"-1 mm\"", "`bead-reach` cannot be negative"),
        ("bead-raech = \"1 mm\"", "bead-raech", "there is no assumed value `bead-raech`"),
        ("wet-before-coldest = 12", "12", "`wet-before-coldest` has to be a whole number of months, 0 to 11"),
        ("wet-before-coldest = 1.5", "1.5", "`wet-before-coldest` has to be a whole number of months, 0 to 11"),
        ("flashing-roles = \"pan\"", "\"pan\"", "this value for `flashing-roles` is a word; expected a list of roles"),
        ("off = true", "assumed", "assumed values have no level and cannot be switched off"),
        ("level = \"note\"", "assumed", "assumed values have no level and cannot be switched off"),
    ] {
        let reported = assume(line).err().unwrap_or_else(|| panic!("let through: {line}"));
        assert_eq!(reported, [(at.to_owned(), said.to_owned())], "{line}");
    }
    let reported = assume("flashing-roles = [\"pan\", \"pann\"]").err().expect("no such role");
    assert!(reported[0].1.starts_with("`pann` is not a role of a piece"), "{reported:?}");
}

/// The table of a rule file has to be whole, and there is one.
#[test]
fn the_table_is_whole_and_there_is_one() {
    let reported = |files: &[Arc<Source>]| -> Vec<(String, String)> {
        let found = Pack::of(files, &[]).err().unwrap_or_default();
        found.into_iter().map(|f| (f.rule.to_string(), f.message.clone())).collect()
    };
    let whole = std::fs::read_to_string("rules/tables/assumed.toml").expect("the stock table");
    let words = source(
        "words.toml",
        "[words]\nrole = ['pan', 'head-flashing', 'step-flashing', 'kick-out', 'end-dam', 'drip-edge', 'through-wall-flashing', 'cant', 'base-flashing']\n",
    );
    assert_eq!(reported(&[source("assumed.toml", &whole), words.clone()]), []);
    let short = whole.replace("fillet = '1/4 in'\n", "");
    assert_eq!(
        reported(&[source("assumed.toml", &short), words.clone()]),
        [("rule-key".into(), "`[assumed]` needs a value for `fillet`".into())]
    );
    let twice = [source("assumed.toml", &whole), source("again.toml", &whole), words];
    assert_eq!(reported(&twice), [("rule-duplicate".into(), "the assumed values are already written".into())]);
}

/// The settings of a library reach its facts; those of a folder cannot, since assemblies are worked out once for all.
#[test]
fn the_settings_of_a_library_change_its_findings() {
    let folder = scratch("assumed/settings");
    let text = "include \"stock.detail\"\nassembly C existing { outside; layer concrete 200 mm; inside }\n\
        detail cap course joins C {\n  piece deck plywood\n  piece wrap wrap-open\n  \
        piece cap aluminum-flashing up 0 mm to 100 mm with drip\n  seal cap to wrap with butyl-bead up 45 mm\n}\n";
    write(&folder, "a.detail", text);
    let open = |settings: &str| {
        write(&folder, "headlap.toml", settings);
        run(&folder, &["review", "--quiet", "--format", "lines"])
    };
    assert!(open("").1.contains("(reverse-lap)"), "a bead 55 mm below the edge leaves it open");
    let wider = "[adjust.assumed]\nbead-reach = \"55 mm\"\nbecause = \"our office\"\n";
    let (_, said, wrong) = open(wider);
    assert!(!said.contains("(reverse-lap)") && said.contains("(lap-relies-on-seal)"), "{said}{wrong}");
    let (status, said, wrong) =
        open("[[folder]]\npath = \".\"\n[folder.adjust.assumed]\nfillet = \"1 mm\"\nbecause = \"x\"\n");
    assert!(status == 2 && format!("{said}{wrong}").contains("hold for the whole library"), "{said}{wrong}");
}
