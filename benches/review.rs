//! A firm's library in memory: parse, facts, rules and the whole review, each apart. `cargo bench --bench review`

mod corpus;

use std::sync::{Arc, LazyLock};

use divan::counter::ItemsCount;
use headlap::facts::vocabulary::{Fact, Kind};
use headlap::facts::{AssemblyFacts, Assumed, DetailFacts};
use headlap::model::{Library, SourceMap};
use headlap::review::{Files, Given, Reviewer, run};
use headlap::rules::{Pack, judge};
use headlap::syntax;
use headlap::text::{FileId, Source};
use jiff::civil::date;

/// What the program itself uses.
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

fn main() {
    divan::main();
}

/// Details in the library; a file holds three of them.
const SIZES: &[u64] = &[1_000, 25_000];

fn library(details: u64) -> Vec<Arc<Source>> {
    let source = |n: u64| Arc::new(Source::new(FileId::detail(n as usize), corpus::path(n), corpus::file(1, n)));
    (0..details.div_ceil(3)).map(source).collect()
}

fn lines(files: &[Arc<Source>]) -> ItemsCount {
    ItemsCount::new(files.iter().map(|file| file.text.lines().count()).sum::<usize>())
}

fn shared(path: &str) -> Result<Arc<Source>, String> {
    match path {
        "shared.detail" => Ok(Arc::new(Source::new(FileId::detail(u32::MAX as usize / 4), path, corpus::SHARED))),
        _ => Err("there is no such file".into()),
    }
}

/// Lines a second through the reader of the language.
#[divan::bench(args = SIZES, sample_count = 3, sample_size = 1)]
fn parse(bencher: divan::Bencher, details: u64) {
    let files = library(details);
    bencher.counter(lines(&files)).bench_local(|| {
        for file in &files {
            divan::black_box(syntax::parse(file));
        }
    });
}

fn libraries(source_map: &SourceMap<'_>, files: &[Arc<Source>]) -> Vec<Library> {
    files.iter().map(|file| source_map.read(file.clone()).library).collect()
}

/// Reading with names resolved, over a shared file that is read once.
#[divan::bench(args = SIZES, sample_count = 3, sample_size = 1)]
fn names(bencher: divan::Bencher, details: u64) {
    let pack = Pack::load(&[]).expect("the stock rules load");
    let source_map = SourceMap::new(&shared, &pack.words);
    let files = library(details);
    bencher.counter(lines(&files)).bench_local(|| {
        for file in &files {
            divan::black_box(source_map.read(file.clone()));
        }
    });
}

fn assumed() -> Arc<Assumed> {
    static STOCK: LazyLock<Arc<Assumed>> = LazyLock::new(|| Pack::load(&[]).expect("the stock rules load").assumed);
    STOCK.clone()
}

fn derive(library: &Library) -> Vec<DetailFacts> {
    let details = library.details.iter().map(|detail| {
        let joined = detail
            .joins
            .iter()
            .map(|join| Arc::new(AssemblyFacts::derive(join.assembly.clone(), &assumed())))
            .collect();
        DetailFacts::derive(detail.clone(), joined, true, &assumed())
    });
    details.collect()
}

/// All facts of the details, from resolved names on.
#[divan::bench(args = SIZES, sample_count = 3, sample_size = 1)]
fn facts(bencher: divan::Bencher, details: u64) {
    let pack = Pack::load(&[]).expect("the stock rules load");
    let source_map = SourceMap::new(&shared, &pack.words);
    let files = library(details);
    let libraries = libraries(&source_map, &files);
    bencher.counter(lines(&files)).bench_local(|| {
        for library in &libraries {
            divan::black_box(derive(library));
        }
    });
}

/// All rules on facts that are there.
#[divan::bench(args = SIZES, sample_count = 3, sample_size = 1)]
fn rules(bencher: divan::Bencher, details: u64) {
    let pack = Pack::load(&[]).expect("the stock rules load");
    let source_map = SourceMap::new(&shared, &pack.words);
    let files = library(details);
    let facts: Vec<DetailFacts> = libraries(&source_map, &files).iter().flat_map(derive).collect();
    let items = |facts| {
        Kind::ALL.into_iter().flat_map(move |kind| DetailFacts::items(facts, kind).iter()).collect::<Vec<Fact>>()
    };
    bencher.counter(lines(&files)).bench_local(|| {
        for facts in &facts {
            divan::black_box(judge(&pack, items(facts)));
        }
    });
}

fn review(files: &[Arc<Source>], threads: usize) -> usize {
    let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().expect("a pool");
    let pack = Pack::load(&[]).expect("the stock rules load");
    pool.install(|| {
        let source_map = SourceMap::new(&shared, &pack.words);
        let reviewer = Reviewer::new(&source_map, &pack, date(2026, 11, 25));
        let read = |number: usize| Given::Text(files[number].clone());
        let has = |name: &str| files.iter().any(|file| file.name == name);
        run(&reviewer, &Files { count: files.len(), read: &read, has: &has }, false).report.findings.len()
    })
}

/// The whole review on one core.
#[divan::bench(args = SIZES, sample_count = 3, sample_size = 1)]
fn whole_one_core(bencher: divan::Bencher, details: u64) {
    let files = library(details);
    bencher.counter(lines(&files)).bench_local(|| review(&files, 1));
}

/// The whole review on all cores.
#[divan::bench(args = SIZES, sample_count = 3, sample_size = 1)]
fn whole_all_cores(bencher: divan::Bencher, details: u64) {
    let files = library(details);
    bencher.counter(lines(&files)).bench_local(|| review(&files, 0));
}

/// Reading, checking and typing the built-in rules, which every start pays.
#[divan::bench(sample_count = 20)]
fn load_rules() {
    divan::black_box(Pack::load(&[]).expect("the stock rules load"));
}
