//! The stock rules as the build script keeps them for the program: the files in their order, with expressions and sentences
//! read, without examples and without the places of words in expressions. Of each rule its head is read when the program
//! starts, what it asks once something may fail it, and what it says once something does.

use serde::{Deserialize, Serialize};

use crate::finding::Basis;
use crate::rules::written::{
    Common, Expr, Form, Piece, Quoted, RawConstant, RawFile, RawRule, parse, read_sentence, share,
};

/// Whether a file below `rules` holds stock rules. The library to begin from has settings, and editions are asked for by name.
pub fn is_stock(path: &str) -> bool {
    path.ends_with(".toml") && !path.starts_with("start") && !path.starts_with("editions")
}

/// All stock rules.
#[derive(Serialize, Deserialize)]
pub struct Prepared<'s> {
    /// What the files hold besides rules.
    #[serde(borrow)]
    pub files: Vec<RawFile<'s>>,
    /// In the order of the files.
    pub rules: Vec<Head<'s>>,
    /// What rules about one kind of thing ask alike.
    pub common: Vec<Common<'s>>,
}

/// What is known of a rule before anything is held against it.
#[derive(Serialize, Deserialize)]
pub struct Head<'s> {
    /// The number of its file.
    pub file: usize,
    #[serde(borrow)]
    pub id: Quoted<'s>,
    pub title: Quoted<'s>,
    pub level: Quoted<'s>,
    pub about: Quoted<'s>,
    /// The common conditions that have to be true for it to look at a thing, a bit for each.
    pub conditions: u128,
    /// `RawAsks`, to be read when needed.
    pub asks: &'s [u8],
    /// `RawTells`.
    pub tells: &'s [u8],
}

/// What a rule asks.
#[derive(Serialize, Deserialize)]
pub struct RawAsks<'s> {
    #[serde(borrow)]
    pub when: Option<Form<'s, Expr<'s>>>,
    pub needs: Form<'s, Expr<'s>>,
    pub constants: Vec<RawConstant>,
}

/// What it says of a thing that fails it.
#[derive(Serialize, Deserialize)]
pub struct RawTells<'s> {
    #[serde(borrow)]
    pub says: Form<'s, Vec<Piece<'s>>>,
    pub fix: Option<Form<'s, Vec<Piece<'s>>>>,
    pub at: Option<Quoted<'s>>,
    pub per: Option<Form<'s, Expr<'s>>>,
    pub basis: Vec<Basis>,
}

/// What the program starts from.
pub fn prepare(files: &[RawFile<'_>]) -> Vec<u8> {
    let rules = files.iter().enumerate().flat_map(|(number, file)| file.rules.iter().map(move |rule| (number, rule)));
    let mut rules: Vec<(usize, RawRule<'_>)> = rules.map(|(number, rule)| (number, rule.prepared())).collect();
    let common = share(rules.iter_mut().map(|(_, rule)| rule));
    let kept: Vec<(Vec<u8>, Vec<u8>)> = rules.iter().map(|(_, rule)| rule.parts()).collect();
    let head = |file: usize, rule: &RawRule<'_>, asks: &[u8], tells: &[u8]| {
        let RawRule { id, title, level, about, when, .. } = rule.clone();
        let conditions = when.as_ref().map_or(0, Common::asked_by);
        written(&Head { file, id, title, level, about, conditions, asks, tells })
    };
    let each = rules.iter().zip(&kept);
    let heads: Vec<Vec<u8>> = each.map(|((file, rule), (asks, tells))| head(*file, rule, asks, tells)).collect();
    let rules = heads.iter().map(|head| read(head)).collect();
    let rest = |file: &RawFile<'_>| written(&RawFile { rules: Vec::new(), ..file.clone() });
    let files: Vec<Vec<u8>> = files.iter().map(rest).collect();
    let files = files.iter().map(|file| read(file)).collect();
    written(&Prepared { files, rules, common })
}

/// Back from there, or from a part of it.
pub fn read<'s, T: Deserialize<'s>>(bytes: &'s [u8]) -> T {
    postcard::from_bytes(bytes).expect("the build script has written it")
}

fn written(what: &impl Serialize) -> Vec<u8> {
    postcard::to_allocvec(what).expect("rules can be written into memory")
}

impl<'s> Prepared<'s> {
    /// The files with all of their rules, as if they had just been read.
    pub fn whole(self) -> Vec<RawFile<'s>> {
        let Prepared { mut files, rules, common } = self;
        for head in rules {
            let RawAsks { when, needs, constants } = read(head.asks);
            let RawTells { says, fix, at, per, basis } = read(head.tells);
            let Head { file, id, title, level, about, .. } = head;
            let (replaces, unreadable, except, examples) = (false, Vec::new(), Vec::new(), Vec::new());
            let mut rule = RawRule {
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
            };
            if let Some(common) = common.iter().find(|common| common.about == rule.about.text) {
                common.put_back(&mut rule);
            }
            files[file].rules.push(rule);
        }
        files
    }
}

impl RawRule<'_> {
    fn prepared(&self) -> RawRule<'_> {
        let rule: RawRule<'_> = self.clone();
        // What cannot be read stays as it is written, to be complained of when it is checked.
        let (when, except) = match self.looked_at() {
            _ if self.except.is_empty() => (self.when.as_ref().map(expression), Vec::new()),
            Ok(expr) => (Some(Form::Read(expr)), Vec::new()),
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

    /// What it asks and what it says.
    fn parts(&self) -> (Vec<u8>, Vec<u8>) {
        let RawRule { when, needs, says, fix, at, per, constants, basis, .. } = self.clone();
        (written(&RawAsks { when, needs, constants }), written(&RawTells { says, fix, at, per, basis }))
    }
}

/// What cannot be read stays as it is written, to be complained of when it is checked.
fn expression<'t>(form: &'t Form<'_, Expr<'_>>) -> Form<'t, Expr<'t>> {
    form.read(|quoted: &'t Quoted<'_>| parse(quoted, 0..quoted.text.len()).ok())
}

fn sentence<'t>(form: &'t Form<'_, Vec<Piece<'_>>>) -> Form<'t, Vec<Piece<'t>>> {
    form.read(|quoted: &'t Quoted<'_>| {
        Some(read_sentence(quoted)).filter(|(_, problems)| problems.is_empty()).map(|(pieces, _)| pieces)
    })
}
