//! Text that could not be read is never passed over in silence.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use headlap::finding::{Id, Level, PAGES};

use crate::command::{run as run_in, scratch, write};
use crate::review::review_text;

/// A weep line that cannot be read, a waiver that nothing would match, and masonry that seems to have no weeps.
const BROKEN: &str = "include \"stock.detail\"
assembly C existing { outside; layer concrete 200 mm; inside }
detail D1 base-of-wall joins C {
  piece through  rubber-flashing  up -80 mm to 200 mm  with drip
  piece veneer   brick-veneer     up from 0 mm
  weep evry 600 mm
  waive missing-drip because \"the stone band sheds it\"
}
";

fn run(name: &str, text: &str, args: &[&str]) -> (i32, String, String) {
    let folder = scratch(&format!("unread/{name}"));
    write(&folder, "a.detail", text);
    run_in(&folder, args)
}

#[test]
fn rules_about_absence_and_idle_waivers_are_silent_where_a_line_was_not_read() {
    let (status, out, _) = run("absence", BROKEN, &["review", "a.detail", "--format", "lines"]);
    assert_eq!((status, out.lines().count()), (1, 1), "{out}");
    assert!(out.contains("(syntax)"), "{out}");
    // Read whole, it has no weeps, and the waiver is idle.
    let (_, out, _) =
        run("whole", &BROKEN.replace("  weep evry 600 mm\n", ""), &["review", "a.detail", "--format", "lines"]);
    assert!(out.contains("(missing-weeps)") && out.contains("(idle-waiver)"), "{out}");
}

/// Rules that hold what was read against itself: two pieces in their sequence, the size of a lap, a foot against grade.
const PRESENCE: [&str; 9] = [
    "reverse-lap",
    "impossible-stack",
    "open-top-edge",
    "short-head-lap",
    "short-side-lap",
    "short-flashing-lap",
    "short-veneer-upturn",
    "cladding-below-grade",
    "clearance-to-grade",
];

/// Details that are as they have to be, with one line after the other misspelled: no rule misses what was not read.
#[test]
fn no_line_that_was_not_read_is_missed_by_a_rule() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/details/correct");
    let mut texts = Vec::new();
    for entry in walkdir::WalkDir::new(folder).sort_by_file_name() {
        let path = entry.expect("the folder can be walked").into_path();
        if path.extension().is_some_and(|end| end == "detail") {
            texts.extend(misspelled(&fs::read_to_string(path).expect("a detail")).into_iter().step_by(3));
        }
    }
    assert!(texts.len() > 400, "{}", texts.len());
    let reported: Vec<String> = texts.iter().flat_map(|(line, text)| consequences(line, text)).collect();
    assert!(reported.is_empty(), "{} of {}:\n{}", reported.len(), texts.len(), reported.join("\n"));
}

/// The errors and warnings of a text besides those that say that a line of it was not read.
fn consequences(line: &str, text: &str) -> Vec<String> {
    let report = review_text(text);
    let reported = report.findings.iter().filter(|f| f.level != Level::Note && !f.unread() && f.waived.is_none());
    let reported = reported.filter(|finding| !PRESENCE.contains(&&*finding.rule));
    reported.map(|finding| format!("{}: {} ({line})", finding.rule, finding.message)).collect()
}

/// The text once for each statement of its details that lies on a line of its own, with the first word of that misspelled.
fn misspelled(text: &str) -> Vec<(String, String)> {
    const WORDS: [&str; 6] = ["piece", "seal", "fasten", "weeps", "cut", "fold"];
    let lines: Vec<&str> = text.lines().collect();
    let mut within = false;
    let mut texts = Vec::new();
    for (at, line) in lines.iter().enumerate() {
        match line.split_whitespace().next() {
            Some("detail") => within = true,
            Some("}") => within = false,
            Some(word) if within && line.starts_with(' ') && WORDS.contains(&word) => {
                let mut changed: Vec<String> = lines.iter().map(ToString::to_string).collect();
                changed[at] = line.replacen(word, &format!("z{word}"), 1);
                texts.push((line.trim().to_string(), changed.join("\n")));
            }
            _ => {}
        }
    }
    texts
}

#[test]
fn commands_that_show_what_they_work_out_report_what_they_could_not_read() {
    for args in [&["facts", "."] as &[&str], &["sequence", "."], &["draw", ".", "--out", "drawings"]] {
        let (status, _, said) = run("shown", BROKEN, args);
        assert_eq!(status, 1, "{args:?}: {said}");
        assert!(said.contains("a.detail:6:3") && said.contains("incomplete"), "{said}");
        let (status, ..) = run("bytes", "\u{0}", &[args, &["missing.detail"]].concat());
        assert_eq!(status, 2, "{args:?}");
        let (status, _, said) = run("only", BROKEN, &[args, &["--only", "D2"]].concat());
        assert_eq!(status, 2, "{args:?}");
        assert!(said.contains("did you mean D1?"), "{said}");
    }
}

#[test]
fn what_is_known_or_waived_was_read() {
    let (status, _, said) = run("written", BROKEN, &["review", ".", "--write-known", "known.jsonl"]);
    assert_eq!(status, 1, "{said}");
    assert!(said.contains("(syntax)") || said.contains("syntax ──"), "{said}");
    let list = Path::new(env!("CARGO_TARGET_TMPDIR")).join("unread/written/known.jsonl");
    assert!(!fs::read_to_string(list).expect("the list").contains("syntax"));
    let waived = BROKEN.replace("missing-drip", "syntax");
    let (status, out, _) = run("waived", &waived, &["review", ".", "--format", "lines"]);
    assert_eq!(status, 1);
    assert!(out.contains("`syntax` cannot be waived"), "{out}");
}

/// Every id that the code gives a finding.
#[test]
fn every_finding_has_a_page_and_every_page_a_finding() {
    let pages: BTreeSet<&str> = PAGES.iter().map(|page| page.id).collect();
    let texts = Id::ALL.into_iter().filter(|id| id.of_text()).map(Id::word);
    let unread: BTreeSet<&str> = texts.filter(|id| !["missing-property", "unknown-role"].contains(id)).collect();
    let marked = PAGES.iter().filter(|page| page.unread).map(|page| page.id);
    assert_eq!(unread, marked.collect(), "errors of a text, and no others");
    for page in &PAGES {
        let (status, out, _) = run("page", "", &["rules", "show", page.id]);
        assert_eq!(status, 0, "{}", page.id);
        assert!(out.contains(page.title) && out.contains("To do"), "{out}");
    }
    let (_, list, _) = run("list", "", &["rules", "list"]);
    assert!(pages.iter().all(|id| list.contains(&format!("  {id} "))), "{list}");
    let rules = headlap::rules::Pack::load(&[]).expect("the stock rules load");
    assert!(rules.rules.iter().all(|rule| !pages.contains(&*rule.id)), "a rule has a page of its own");
}

/// While a block has no end, its author is still writing it: what it lacks may come.
#[test]
fn a_block_that_is_still_being_written_lacks_nothing() {
    let whole = "include \"stock.detail\"
assembly W wall {
  outside
  layer wrap-open controls water, air
  layer plywood 12 mm
  inside
}
detail D course joins W {
  piece deck  plywood    of W
  piece high  wrap-open  of W  up from 0 mm
  piece low   wrap-open  of W  up to 150 mm
}
";
    let ids = |text: &str| -> BTreeSet<String> {
        review_text(text).findings.iter().map(|own| own.rule.to_string()).collect()
    };
    let syntax = || BTreeSet::from(["syntax".to_owned()]);
    for end in ["wall", "wall {", "outside", "layer wrap-open", "inside", "joins W", "joins W {", "of W\n"] {
        let at = whole.find(end).expect("it is there") + end.len();
        assert_eq!(ids(&whole[..at]), syntax(), "{}", &whole[..at]);
    }
    let open = whole.trim_end().trim_end_matches('}');
    assert!(ids(open).contains("reverse-lap"), "what is drawn is judged");
}
