//! How the cost of a run grows with shapes that nobody files by intent: each at a size, twice and four times that. What takes
//! four times as long at each step is quadratic; all of these are to stay near twice, or to end at a refusal.
//! `cargo bench --bench growth`

use std::fs;
use std::path::Path;
use std::process::{Command, Stdio};

use tempfile::TempDir;

fn main() {
    divan::main();
}

const HEAD: &str = "include \"stock.detail\"\n\
    assembly W wall { outside; layer wrap-open controls water, air; layer plywood 12 mm; inside }\n";

/// A folder with files, and the command to run in it.
struct Shape {
    folder: TempDir,
    args: Vec<&'static str>,
}

impl Shape {
    fn new(args: &[&'static str], files: impl IntoIterator<Item = (String, String)>) -> Shape {
        let folder = tempfile::tempdir().expect("a folder");
        for (name, text) in files {
            let path = folder.path().join(name);
            fs::create_dir_all(path.parent().unwrap_or(Path::new("."))).expect("a folder");
            fs::write(path, text).expect("written");
        }
        Shape { folder, args: args.to_vec() }
    }

    fn run(&self, args: &[&str]) {
        let mut command = Command::new(env!("CARGO_BIN_EXE_headlap"));
        command.current_dir(self.folder.path()).args(args).stdout(Stdio::null()).stderr(Stdio::null());
        let status = command.status().expect("the program runs");
        assert!(status.code().is_some_and(|code| code < 3), "it ends by itself");
    }

    fn measure(self, bencher: divan::Bencher) {
        bencher.bench_local(|| self.run(&self.args));
    }
}

const REVIEW: &[&str] = &["review", ".", "--no-cache", "--format", "sarif"];

fn one(text: String) -> [(String, String); 1] {
    [("a.detail".to_owned(), text)]
}

fn detail(name: &str, body: &str) -> String {
    format!("detail {name} course joins W {{\n{body}}}\n")
}

fn pieces(count: usize, letter: char) -> String {
    let piece = |n| format!("  piece {letter}{n} wrap-open of W up {} mm to {} mm\n", 100 * n, 100 * n + 250);
    (0..count).map(piece).collect()
}

fn short_laps(count: usize, letter: char) -> String {
    let body = "  piece upper wrap-open of W up from 0 mm\n  piece lower wrap-open of W up to 20 mm\n";
    (0..count).map(|n| detail(&format!("{letter}{n}"), body)).collect()
}

fn with_rule(needs: &str, says: &str, details: String) -> Vec<(String, String)> {
    let rule = format!(
        "[[rule]]\nid = 'own'\ntitle = 'Own'\nlevel = 'note'\nabout = 'piece'\nneeds = '{needs}'\nsays = '{says}'\n\
         [[rule.basis]]\nknown = 'practice'\n"
    );
    let settings = ("headlap.toml".to_owned(), "rules = [\"firm\"]\n".to_owned());
    vec![("firm/own.toml".to_owned(), rule), settings, ("a.detail".to_owned(), details)]
}

/// Lists within lists, as deep as the number.
#[divan::bench(args = [2, 4, 6], sample_count = 3, sample_size = 1)]
fn nested_all(bencher: divan::Bencher, depth: usize) {
    let needs = (0..depth).fold("index >= 0".to_owned(), |inner, _| format!("all(detail.pieces, {inner})"));
    let details = HEAD.to_owned() + &detail("D", &pieces(30, 'p'));
    Shape::new(REVIEW, with_rule(&needs, "{piece}", details)).measure(bencher);
}

#[divan::bench(args = [200, 400, 800], sample_count = 3, sample_size = 1)]
fn fastenings_by_tapes(bencher: divan::Bencher, count: usize) {
    let tape = |n| format!("  piece t{n} acrylic-tape up {} mm to {} mm bonds base rolled\n", 100 * n, 100 * n + 75);
    let nail = |n| format!("  fasten base with cap-nail every 300 mm up from {} mm\n", 100 * n + 20);
    let body: String = (0..count).map(tape).chain((0..count).map(nail)).collect();
    let base = "  piece base wrap-open of W up 0 mm to 100 m\n";
    Shape::new(REVIEW, one(HEAD.to_owned() + &detail("D", &format!("{base}{body}")))).measure(bencher);
}

#[divan::bench(args = [1000, 2000, 4000], sample_count = 3, sample_size = 1)]
fn pans(bencher: divan::Bencher, count: usize) {
    let pan = |n| format!("  piece p{n} aluminum-flashing as pan up {} mm to {} mm\n", 100 * n, 100 * n + 50);
    Shape::new(REVIEW, one(HEAD.to_owned() + &detail("D", &(0..count).map(pan).collect::<String>()))).measure(bencher);
}

#[divan::bench(args = [250, 500, 1000], sample_count = 3, sample_size = 1)]
fn all_pieces_in_a_sentence(bencher: divan::Bencher, count: usize) {
    let details = HEAD.to_owned() + &detail("D", &pieces(count, 'p'));
    Shape::new(REVIEW, with_rule("index < 0", "{piece} is one of {detail.pieces}", details)).measure(bencher);
}

#[divan::bench(args = [250, 500, 1000], sample_count = 3, sample_size = 1)]
fn layers(bencher: divan::Bencher, count: usize) {
    let layers: String = (0..count).map(|n| format!("  layer plywood 1 mm as l{n}\n")).collect();
    let text = format!("include \"stock.detail\"\nassembly A existing {{\n  outside\n{layers}  inside\n}}\n");
    Shape::new(REVIEW, one(text)).measure(bencher);
}

fn linked(count: usize, next: impl Fn(usize) -> Option<usize>) -> Vec<(String, String)> {
    let file = |n| {
        let include = next(n).map_or(String::new(), |next| format!("include \"{next}.detail\"\n"));
        (format!("{n}.detail"), format!("{include}material m{n} sheet {{ holds water; mu 5 }}\n"))
    };
    (0..count).map(file).collect()
}

#[divan::bench(args = [200, 400, 800], sample_count = 3, sample_size = 1)]
fn a_ring_of_includes(bencher: divan::Bencher, count: usize) {
    Shape::new(REVIEW, linked(count, |n| Some((n + 1) % count))).measure(bencher);
}

#[divan::bench(args = [1000, 2000, 4000], sample_count = 3, sample_size = 1)]
fn a_chain_of_includes(bencher: divan::Bencher, count: usize) {
    Shape::new(REVIEW, linked(count, |n| Some(n + 1).filter(|next| *next < count))).measure(bencher);
}

#[divan::bench(args = [1000, 2000, 4000], sample_count = 3, sample_size = 1)]
fn mistyped_includes(bencher: divan::Bencher, count: usize) {
    let file = |n| (format!("{n}.detail"), format!("include \"{n}x.detail\"\n"));
    Shape::new(REVIEW, (0..count).map(file).collect::<Vec<_>>()).measure(bencher);
}

#[divan::bench(args = [250, 500, 1000], sample_count = 3, sample_size = 1)]
fn one_long_line(bencher: divan::Bencher, count: usize) {
    let text = HEAD.to_owned() + &detail("D", &pieces(count, 'p')).replace('\n', ";");
    Shape::new(REVIEW, one(text.replacen("{;", "{", 1))).measure(bencher);
}

#[divan::bench(args = [2000, 4000, 8000], sample_count = 3, sample_size = 1)]
fn findings(bencher: divan::Bencher, count: usize) {
    Shape::new(REVIEW, one(HEAD.to_owned() + &short_laps(count, 'd'))).measure(bencher);
}

/// A list of all of them, held against the same details under other names.
#[divan::bench(args = [2000, 4000, 8000], sample_count = 3, sample_size = 1)]
fn known_findings_of_renamed_details(bencher: divan::Bencher, count: usize) {
    let args = ["review", ".", "--no-cache", "--known", "known.jsonl", "--format", "lines"];
    let shape = Shape::new(&args, one(HEAD.to_owned() + &short_laps(count, 'd')));
    shape.run(&["review", ".", "--no-cache", "--write-known", "known.jsonl"]);
    fs::write(shape.folder.path().join("a.detail"), HEAD.to_owned() + &short_laps(count, 'e')).expect("written");
    shape.measure(bencher);
}

#[divan::bench(args = [25, 50, 100], sample_count = 3, sample_size = 1)]
fn folders_with_adjustments(bencher: divan::Bencher, count: usize) {
    let adjust =
        |n| format!("[[folder]]\npath = \"d{n}\"\n[folder.adjust.short-head-lap]\noff = true\nbecause = \"x\"\n");
    let settings = ("headlap.toml".to_owned(), (0..count).map(adjust).collect());
    let files = (0..count).map(|n| (format!("d{n}/a.detail"), HEAD.to_owned()));
    Shape::new(REVIEW, files.chain([settings])).measure(bencher);
}

#[divan::bench(args = [250, 500, 1000], sample_count = 3, sample_size = 1)]
fn renamed_pieces_compared(bencher: divan::Bencher, count: usize) {
    let side =
        |folder: &str, letter| (format!("{folder}/a.detail"), HEAD.to_owned() + &detail("D", &pieces(count, letter)));
    Shape::new(&["compare", "i", "s"], [side("i", 'p'), side("s", 'q')]).measure(bencher);
}

#[divan::bench(args = [500, 1000, 2000], sample_count = 3, sample_size = 1)]
fn renamed_details_compared(bencher: divan::Bencher, count: usize) {
    let side = |folder: &str, letter| (format!("{folder}/a.detail"), HEAD.to_owned() + &short_laps(count, letter));
    Shape::new(&["compare", "i", "s"], [side("i", 'd'), side("s", 'e')]).measure(bencher);
}
