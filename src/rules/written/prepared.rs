//! The stock rules as the build script keeps them for the program: in the order of their ids, with expressions and sentences
//! parsed, but without examples and without the places of words in expressions. The program reads the head of each rule when it
//! starts, its requirement once something may fail it, and its wording once something does. Tables and sieves are read on
//! demand.

use std::collections::BTreeSet;

use serde::{Deserialize, Serialize};

use crate::finding::Basis;
use crate::rules::written::{
    Expr, Quoted, RawConstant, RawFile, RawRule, SentencePart, Written, parse, read_sentence, sieve,
};

/// Whether a file below `rules` holds stock rules. The folder of the starter library has settings, and editions are read by
/// name.
pub fn is_stock(path: &str) -> bool {
    path.ends_with(".toml") && !path.starts_with("start") && !path.starts_with("editions")
}

/// All stock rules.
#[derive(Serialize, Deserialize)]
pub struct Prepared<'s> {
    /// Everything in the files besides rules and tables, as if it were all in one file.
    #[serde(borrow)]
    pub rest: RawFile<'s>,
    /// By their names, each a `RawTable` to be read when needed.
    pub tables: Vec<(&'s str, &'s [u8])>,
    /// In the order of their ids.
    pub rules: Vec<RuleHead<'s>>,
    /// The sieve of each kind of thing, a list of `RawSubject`.
    pub sieves: Vec<(&'s str, &'s [u8])>,
}

/// The part of a rule that is read before anything is evaluated.
#[derive(Serialize, Deserialize)]
pub struct RuleHead<'s> {
    #[serde(borrow)]
    pub id: Quoted<'s>,
    pub title: Quoted<'s>,
    pub level: Quoted<'s>,
    pub about: Quoted<'s>,
    /// `RawRequirement`, to be read when needed.
    pub requirement: &'s [u8],
    /// `Written<Expr>`, by itself because a rule does not look at most things.
    pub needs: &'s [u8],
    /// `RawWording`.
    pub wording: &'s [u8],
}

/// What a rule looks at, and its constants.
#[derive(Serialize, Deserialize)]
pub struct RawRequirement<'s> {
    #[serde(borrow)]
    pub when: Option<Written<'s, Expr<'s>>>,
    /// `when` searches lists, and `needs` does not.
    pub needs_first: bool,
    pub constants: Vec<RawConstant>,
}

/// What it says about a thing that fails it.
#[derive(Serialize, Deserialize)]
pub struct RawWording<'s> {
    #[serde(borrow)]
    pub says: Written<'s, Vec<SentencePart<'s>>>,
    pub fix: Option<Written<'s, Vec<SentencePart<'s>>>>,
    pub at: Option<Quoted<'s>>,
    pub per: Option<Written<'s, Expr<'s>>>,
    pub basis: Vec<Basis>,
}

/// The stock rules in the form that is built into the program.
pub fn prepare(files: &[RawFile<'_>]) -> Vec<u8> {
    let mut rules: Vec<RawRule<'_>> = files.iter().flat_map(|file| &file.rules).map(RawRule::prepared).collect();
    rules.sort_by(|a, b| a.id.text.cmp(&b.id.text));
    let kept: Vec<[Vec<u8>; 3]> = rules.iter().map(RawRule::parts).collect();
    let head = |rule: &RawRule<'_>, [requirement, needs, wording]: &[Vec<u8>; 3]| {
        let RawRule { id, title, level, about, .. } = rule.clone();
        written(&RuleHead { id, title, level, about, requirement, needs, wording })
    };
    let heads: Vec<Vec<u8>> = rules.iter().zip(&kept).map(|(rule, kept)| head(rule, kept)).collect();
    let tables = files.iter().flat_map(|file| &file.tables);
    let tables: Vec<(&str, Vec<u8>)> = tables.map(|table| (&*table.name.text, written(table))).collect();
    let kinds: BTreeSet<&str> = rules.iter().map(|rule| &*rule.about.text).collect();
    let of = |kind: &str| written(&sieve(rules.iter().filter(|rule| rule.about.text == kind)));
    let sieves: Vec<(&str, Vec<u8>)> = kinds.into_iter().map(|kind| (kind, of(kind))).collect();
    written(&Prepared {
        rest: rest(files),
        tables: tables.iter().map(|(name, table)| (*name, &**table)).collect(),
        rules: heads.iter().map(|head| read(head)).collect(),
        sieves: sieves.iter().map(|(kind, sieve)| (*kind, &**sieve)).collect(),
    })
}

/// What the files hold besides rules and tables.
fn rest<'s>(files: &[RawFile<'s>]) -> RawFile<'s> {
    let mut rest = RawFile::default();
    for RawFile { kinds, surfaces, substances, adhesives, roles, assumed, .. } in files.iter().cloned() {
        rest.kinds.extend(kinds);
        rest.surfaces.extend(surfaces);
        rest.substances.extend(substances);
        rest.adhesives.extend(adhesives);
        rest.roles.extend(roles);
        rest.assumed = rest.assumed.or(assumed);
    }
    rest
}

/// Reads that form, or a part of it.
pub fn read<'s, T: Deserialize<'s>>(bytes: &'s [u8]) -> T {
    postcard::from_bytes(bytes).expect("the build script has written it")
}

fn written(what: &impl Serialize) -> Vec<u8> {
    postcard::to_allocvec(what).expect("rules can be written into memory")
}

impl<'s> Prepared<'s> {
    /// All of it, as if it had been read from a single file.
    pub fn whole(self) -> RawFile<'s> {
        let Prepared { rest, tables, rules, .. } = self;
        let tables = tables.into_iter().map(|(_, table)| read(table)).collect();
        let rules = rules.into_iter().map(|head| head.whole()).collect();
        RawFile { rules, tables, ..rest }
    }
}

impl<'s> RuleHead<'s> {
    /// With its requirement and its wording.
    fn whole(self) -> RawRule<'s> {
        let RawRequirement { when, constants, .. } = read(self.requirement);
        let needs = read(self.needs);
        let RawWording { says, fix, at, per, basis } = read(self.wording);
        let RuleHead { id, title, level, about, .. } = self;
        let (replaces, unreadable, except, examples) = (false, Vec::new(), Vec::new(), Vec::new());
        RawRule {
            id,
            title,
            level,
            about,
            when,
            except,
            needs,
            says,
            fix,
            at,
            per,
            replaces,
            constants,
            unreadable,
            basis,
            examples,
        }
    }
}

impl RawRule<'_> {
    fn prepared(&self) -> RawRule<'_> {
        let rule: RawRule<'_> = self.clone();
        // What cannot be parsed stays as text, and is reported when it is checked.
        let (when, except) = match self.looked_at() {
            _ if self.except.is_empty() => (self.when.as_ref().map(expression), Vec::new()),
            Ok(expr) => (Some(Written::Read(expr)), Vec::new()),
            Err(_) => (self.when.as_ref().map(expression), self.except.clone()),
        };
        RawRule {
            when,
            except,
            needs: expression(&self.needs),
            says: sentence(&self.says),
            fix: self.fix.as_ref().map(sentence),
            per: self.per.as_ref().map(expression),
            ..rule
        }
    }

    /// What it looks at, what it needs and what it says.
    fn parts(&self) -> [Vec<u8>; 3] {
        let RawRule { when, needs, says, fix, at, per, constants, basis, .. } = self.clone();
        let searches = |form: &Written<'_, Expr<'_>>| matches!(form, Written::Read(expr) if expr.searches());
        let needs_first = when.as_ref().is_some_and(searches) && !searches(&needs);
        let wording = RawWording { says, fix, at, per, basis };
        [written(&RawRequirement { when, needs_first, constants }), written(&needs), written(&wording)]
    }
}

/// What cannot be parsed stays as text, and is reported when it is checked.
fn expression<'t>(form: &'t Written<'_, Expr<'_>>) -> Written<'t, Expr<'t>> {
    form.read(|quoted: &'t Quoted<'_>| parse(quoted, 0..quoted.text.len()).ok())
}

fn sentence<'t>(form: &'t Written<'_, Vec<SentencePart<'_>>>) -> Written<'t, Vec<SentencePart<'t>>> {
    form.read(|quoted: &'t Quoted<'_>| {
        Some(read_sentence(quoted)).filter(|(_, problems)| problems.is_empty()).map(|(pieces, _)| pieces)
    })
}
