//! All rules, tables and words of a run: the stock ones, and a firm's on top.

mod built_in;
mod load;

use std::collections::BTreeMap;
use std::sync::{Arc, OnceLock};

use crate::facts::Assumed;
use crate::facts::vocabulary::Kind;
use crate::model::{Name, Words};
use crate::quantity::System;
use crate::rules::assumed::AssumedTable;
use crate::rules::compile::compile_leniently;
use crate::rules::rule::Rule;
use crate::rules::sieve::Sieve;
use crate::rules::stock::StockContext;
use crate::rules::table::Table;
use crate::rules::written::{Example, Exception, RawRule, RuleSet, read};
use crate::text::{FileId, Source, Span};

pub use built_in::stock_sources;

/// Rules that are checked and ready to be evaluated.
#[derive(Default)]
pub struct Pack {
    /// In the order of their ids.
    pub rules: Vec<Rule>,
    pub tables: Arc<[Table]>,
    /// Words of the language that come from rule files: kinds of detail, surfaces, adhesives, ids.
    pub words: Words,
    /// The assumptions of the facts, as written and as facts read them.
    pub assumed_table: AssumedTable,
    pub assumed: Arc<Assumed>,
    /// The unit system of numbers in findings; without one, each number keeps its own unit.
    pub units: Option<System>,
    /// The rules about each kind, in the order of `Kind::ALL`.
    about: Vec<RulesAbout>,
    /// The sieves, unless the stock rules are read one by one.
    sieves: Vec<Sieve>,
    /// The context of stock rules that are read one by one.
    stock: Option<Arc<StockContext>>,
    /// The files of the rules; those of the stock rules alone are made on demand.
    sources: OnceLock<BTreeMap<FileId, Arc<Source>>>,
    /// Those of them that are a firm's.
    pub firm: Vec<FileId>,
    /// The stock rules and tables that a firm has replaced, with the places of the replacements.
    pub replaced: Vec<(Name, Span)>,
    /// The edition of the stock rules that the project has pinned.
    pub edition: Option<String>,
}

/// The rules about one kind, by their numbers among all.
#[derive(Default)]
pub struct RulesAbout {
    numbers: Vec<usize>,
    /// Those that are not off, by their numbers here.
    pub asked: RuleSet,
    /// Those of them that a project has adjusted, for which the sieve may no longer be right.
    pub adjusted: RuleSet,
}

impl Pack {
    /// Builds the index of rules by kind, without those that are off.
    pub fn index(&mut self) {
        let of = |kind: Kind| {
            let numbers = (0..self.rules.len()).filter(|number| self.rules[*number].about == kind);
            let numbers: Vec<usize> = numbers.collect();
            let those = |wanted: &dyn Fn(&Rule) -> bool| -> RuleSet {
                (0..numbers.len()).filter(|at| wanted(&self.rules[numbers[*at]])).collect()
            };
            let asked = those(&|rule| !rule.off);
            let adjusted = those(&|rule| !rule.off && !rule.adjusted.is_empty());
            RulesAbout { numbers, asked, adjusted }
        };
        self.about = Kind::ALL.map(of).into();
    }

    /// The rules to ask about things of a kind.
    pub fn about(&self, kind: Kind) -> &RulesAbout {
        static NONE: RulesAbout = RulesAbout { numbers: Vec::new(), asked: RuleSet::NONE, adjusted: RuleSet::NONE };
        self.about.get(kind as usize).unwrap_or(&NONE)
    }

    /// Some of the rules about a kind.
    pub fn among<'p>(&'p self, kind: Kind, rules: &RuleSet) -> impl Iterator<Item = &'p Rule> {
        let numbers = &self.about(kind).numbers;
        rules.iter().map(|at| &self.rules[numbers[at]])
    }

    /// What rules out most rules about a kind.
    pub fn sieve(&self, kind: Kind) -> &Sieve {
        static NONE: Sieve = Sieve::NONE;
        match &self.stock {
            Some(stock) => stock.sieve(kind),
            None => self.sieves.get(kind as usize).unwrap_or(&NONE),
        }
    }

    /// The files of the rules.
    pub fn sources(&self) -> &BTreeMap<FileId, Arc<Source>> {
        self.sources.get_or_init(|| stock_sources().into_iter().map(|source| (source.id, source)).collect())
    }

    /// Whether any rule asks about a kind; facts that no rule asks about need not be computed.
    pub fn asks_about(&self, kind: Kind) -> bool {
        self.about.get(kind as usize).is_some_and(|about| !about.asked.is_empty())
    }

    pub fn rule(&self, id: &str) -> Option<&Rule> {
        self.rules.iter().find(|rule| &*rule.id == id)
    }

    /// The topic of a rule: the folder that its file is in. A firm's folder is a topic of its own.
    pub fn topic(&self, rule: &Rule) -> &str {
        let folder = self.sources().get(&rule.span.file).and_then(|source| source.name.rsplit(['/', '\\']).nth(1));
        folder.unwrap_or("rules")
    }

    /// The examples of a rule, read from its file on demand.
    pub fn examples(&self, rule: &Rule) -> Vec<Example> {
        self.written(rule).map_or_else(Vec::new, |raw| raw.examples)
    }

    /// The exceptions of a rule with their reasons, read from its file on demand.
    pub fn exceptions(&self, rule: &Rule) -> Vec<Exception<'_>> {
        self.written(rule).map_or_else(Vec::new, |raw| raw.except)
    }

    /// A pack of copies of this rule, one for each exception and each without that exception. Their ids are `without-0`,
    /// `without-1` and so on.
    pub fn without_exceptions(&self, rule: &Rule) -> Pack {
        let raw = self.written(rule).expect("the rule was read from its file");
        let without = |exception: usize| {
            let mut raw = raw.without(exception);
            raw.id.text = format!("without-{exception}").into();
            // A constant may be used by that exception alone.
            let rule = compile_leniently(raw, &self.tables, &self.words);
            rule.expect("the whole rule has been read")
        };
        let rules = (0..raw.except.len()).map(without).collect();
        let (tables, words, assumed) = (self.tables.clone(), self.words.clone(), self.assumed.clone());
        let mut pack = Pack { rules, tables, words, assumed, ..Pack::default() };
        pack.index();
        pack
    }

    fn written(&self, rule: &Rule) -> Option<RawRule<'_>> {
        let source = self.sources().get(&rule.span.file)?;
        read(source).0.rules.into_iter().find(|raw| raw.id.whole == rule.span)
    }
}
