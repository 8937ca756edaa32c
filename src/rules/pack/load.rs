//! How a pack is loaded: from the stock rules alone, which are read one by one on demand, or from these together with a firm's.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::{Arc, LazyLock};

use crate::facts::Assumed;
use crate::facts::vocabulary::Kind;
use crate::finding::Finding;
use crate::model::{Name, Words};
use crate::rules::Pack;
use crate::rules::compile::compile;
use crate::rules::edition::{Edition, prints};
use crate::rules::expression::TypeChecker;
use crate::rules::merge::MergedFiles;
use crate::rules::pack::built_in::{PREPARED, stock_sources};
use crate::rules::rule::Rule;
use crate::rules::sieve::Sieve;
use crate::rules::stock::StockContext;
use crate::rules::table::Table;
use crate::rules::written::{ASSUMED, Prepared, RawFile, RawRule, read, read_prepared, read_without_examples, sieve};
use crate::text::{FileId, Source};
use crate::threads;

impl Pack {
    /// The rules that are built in, and a firm's own. A rule or table of the firm with the name of a stock one has to
    /// say `replaces = true`. Returns all problems of the files at once, in the order of the files.
    pub fn load(firm: &[Arc<Source>]) -> Result<Pack, Vec<Finding>> {
        Pack::stock(None, firm)
    }

    /// The same with the built-in rules as an edition has them: rules and tables that have changed since judge as they did,
    /// and rules that came later are off.
    pub fn stock(edition: Option<&Edition>, firm: &[Arc<Source>]) -> Result<Pack, Vec<Finding>> {
        let prepared: Prepared<'static> = read_prepared(PREPARED);
        if edition.is_none() && firm.is_empty() {
            return Ok(Pack::of_heads(prepared));
        }
        let sources = stock_sources();
        let files = vec![(prepared.whole(), Vec::new())];
        // A table or a word of a firm may break a stock rule. The place of the error is known only from the text of that rule.
        Pack::join(edition, &sources, files, firm).or_else(|_| Pack::of_edition(edition, &sources, firm))
    }

    /// The stock rules alone, with whatever has been read of them so far. All libraries of a run without rule settings share
    /// them.
    pub fn built_in() -> Arc<Pack> {
        static BUILT_IN: LazyLock<Arc<Pack>> = LazyLock::new(|| Arc::new(Pack::of_heads(read_prepared(PREPARED))));
        BUILT_IN.clone()
    }

    /// The stock rules alone. No rules of a firm can break them, so they can be read one by one.
    fn of_heads(prepared: Prepared<'static>) -> Pack {
        let (mut merged, mut problems) = (MergedFiles::default(), Vec::new());
        merged.add(prepared.rest, false, &mut problems);
        let tested = "what is built in has been tested";
        let ids: Vec<Name> = prepared.rules.iter().map(|head| head.id.text.as_ref().into()).collect();
        let words = Words { rules: ids.clone(), ..merged.words() };
        let assumed_table = merged.assumed.take().expect(tested);
        let assumed = Arc::new(assumed_table.settle(&words).expect(tested));
        let tables: Arc<[Table]> = prepared.tables.iter().map(|(name, stored)| Table::stored(name, stored)).collect();
        let stock = Arc::new(StockContext::new(&tables, Arc::new(words.clone()), &prepared.sieves));
        let rules = prepared.rules.iter().zip(ids).map(|(head, id)| Rule::stored(head, id, &stock)).collect();
        let mut pack = Pack { rules, tables, words, assumed_table, assumed, stock: Some(stock), ..Pack::default() };
        pack.index();
        pack
    }

    /// From sources alone, without the built-in rules.
    #[cfg_attr(sealed, expect(dead_code, reason = "tests judge by rules of their own"))]
    pub fn of(base: &[Arc<Source>], firm: &[Arc<Source>]) -> Result<Pack, Vec<Finding>> {
        Pack::of_edition(None, base, firm)
    }

    /// From sources alone, as an edition has them.
    pub fn of_edition(
        edition: Option<&Edition>,
        base: &[Arc<Source>],
        firm: &[Arc<Source>],
    ) -> Result<Pack, Vec<Finding>> {
        // Built-in rules have been tested, so their examples have no mistakes that would have to be reported.
        Pack::join(edition, base, threads::map(base, read_without_examples), firm)
    }

    fn join<'s>(
        edition: Option<&'s Edition>,
        base: &[Arc<Source>],
        files: Vec<(RawFile<'s>, Vec<Finding>)>,
        firm: &'s [Arc<Source>],
    ) -> Result<Pack, Vec<Finding>> {
        let older = edition.map_or(&[][..], |edition| &edition.older);
        let former: BTreeSet<String> = older.iter().flat_map(|source| prints(source).into_keys()).collect();
        let all: Vec<&Arc<Source>> = older.iter().chain(base).chain(firm).collect();
        let mut problems = Vec::new();
        let mut merged = MergedFiles::default();
        let as_it_was = |(mut file, found): (RawFile<'s>, Vec<Finding>)| {
            file.rules.retain(|rule| !former.contains(&format!("rule {}", rule.id.text)));
            file.tables.retain(|table| !former.contains(&format!("table {}", table.name.text)));
            file.assumed = file.assumed.filter(|_| !former.contains(&format!("table {ASSUMED}")));
            (file, found)
        };
        let files = files.into_iter().map(|file| if former.is_empty() { file } else { as_it_was(file) });
        let built_in = threads::map(older, read_without_examples).into_iter().chain(files).map(|file| (file, false));
        let own = threads::map(firm, read).into_iter().map(|file| (file, true));
        for ((file, found), own) in built_in.chain(own) {
            problems.extend(found);
            merged.add(file, own, &mut problems);
        }
        let words = merged.words();
        let replaced = std::mem::take(&mut merged.replaced);
        // Rules without the built-in ones come with no assumed values.
        let assumed_table = merged.assumed.take().unwrap_or_default();
        let assumed =
            if assumed_table.constants.is_empty() { Ok(Assumed::default()) } else { assumed_table.settle(&words) };
        let assumed = assumed.unwrap_or_else(|found| {
            problems.extend(found);
            Assumed::default()
        });
        let tables: Arc<[Table]> = merged.tables.into_iter().map(|(_, t)| t.check(&words, &mut problems)).collect();
        merged.rules.sort_by(|(_, a), (_, b)| a.id.text.cmp(&b.id.text));
        let sieves = sieves(&merged.rules, &tables, &words);
        let compiled = threads::map(merged.rules, |(_, raw)| compile(raw, &tables, &words));
        let mut rules = Vec::with_capacity(compiled.len());
        for rule in compiled {
            match rule {
                Ok(rule) => rules.push(rule),
                Err(found) => problems.extend(found),
            }
        }
        if !problems.is_empty() {
            let rank = |id: FileId| all.iter().position(|s| s.id == id);
            problems.sort_by_key(|f| (rank(f.span.file), f.span.start, f.span.end));
            return Err(problems);
        }
        let firm_files: BTreeSet<FileId> = firm.iter().map(|source| source.id).collect();
        let later = |rule: &Rule| {
            edition.is_some_and(|edition| !edition.has_rule(&rule.id)) && !firm_files.contains(&rule.span.file)
        };
        rules.iter_mut().for_each(|rule| rule.off = later(rule));
        let sources: BTreeMap<FileId, Arc<Source>> = all.iter().map(|s| (s.id, Arc::clone(s))).collect();
        let mut pack = Pack {
            rules,
            tables,
            words,
            assumed_table,
            assumed: Arc::new(assumed),
            units: None,
            about: Vec::new(),
            sieves,
            stock: None,
            sources: sources.into(),
            firm: firm.iter().map(|s| s.id).collect(),
            replaced,
            edition: edition.map(|edition| edition.name.clone()),
        };
        pack.index();
        Ok(pack)
    }
}

/// The sieve of each kind, in the order of `Kind::ALL`.
fn sieves(rules: &[(bool, RawRule<'_>)], tables: &[Table], words: &Words) -> Vec<Sieve> {
    let of = |kind: Kind| {
        let about = rules.iter().map(|(_, rule)| rule).filter(|rule| rule.about.text == kind.word());
        Sieve::of(sieve(about), &mut TypeChecker::new(kind, &mut [], tables, words))
    };
    Kind::ALL.map(of).into()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_prepared_form_is_what_the_rule_files_say() {
        let sources = stock_sources();
        let (files, problems): (Vec<_>, Vec<_>) = sources.iter().map(read_without_examples).unzip();
        assert!(problems.iter().all(Vec::is_empty));
        assert!(crate::rules::prepare(&files) == PREPARED, "the build script has read something else");
    }

    #[test]
    fn rules_judge_alike_from_the_prepared_form_and_from_their_files() {
        let (sources, prepared) = (stock_sources(), read_prepared::<Prepared<'_>>(PREPARED));
        let files = vec![(prepared.whole(), Vec::new())];
        let whole = Pack::join(None, &sources, files, &[]).unwrap();
        let (one_by_one, read) = (Pack::load(&[]).unwrap(), Pack::of(&sources, &[]).unwrap());
        for pack in [&whole, &one_by_one] {
            assert!(pack.rules.len() > 300 && pack.rules.len() == read.rules.len());
            pack.rules.iter().zip(&read.rules).for_each(|(a, b)| alike(a, b));
            let rest = |pack: &Pack| format!("{:?}", (&pack.tables, &pack.words, &pack.assumed_table, pack.sources()));
            assert_eq!(rest(pack), rest(&read));
        }
        for kind in Kind::ALL {
            assert!(one_by_one.sieve(kind) == read.sieve(kind) && whole.sieve(kind) == read.sieve(kind), "{kind:?}");
        }
    }

    fn alike(a: &Rule, b: &Rule) {
        let head =
            |rule: &Rule| format!("{:?}", (&rule.title, rule.level, rule.about, &rule.constants_in_use(), rule.span));
        assert!(a.id == b.id && head(a) == head(b), "{} {}", head(a), head(b));
        assert!(a.when == b.when && a.needs() == b.needs(), "{}", a.id);
        assert!((a.needs_first, a.about_absence(), a.off) == (b.needs_first, b.about_absence(), b.off), "{}", a.id);
        let (a_tells, b_tells) = (a.wording(), b.wording());
        assert!(a_tells.per == b_tells.per && a_tells.at == b_tells.at, "{}", a.id);
        assert!(a_tells.says == b_tells.says && a_tells.fix == b_tells.fix, "{}", a.id);
        assert!(format!("{:?}", a_tells.basis) == format!("{:?}", b_tells.basis), "{}", a.id);
    }

    #[test]
    fn a_start_reads_no_more_of_the_rules_than_their_heads() {
        let pack = Pack::load(&[]).unwrap();
        assert!(pack.rules.iter().all(|rule| !rule.is_read()));
    }

    #[test]
    fn what_a_firm_breaks_in_a_stock_rule_is_reported_at_its_place() {
        let text = "[[table]]\nname = 'retarder-class'\nreplaces = true\nkeys = ['zone']\nrows = [['4C', 'II']]\n";
        let firm = Arc::new(Source::new(FileId::firm_rules(0), "firm.toml", text));
        let problems = Pack::load(std::slice::from_ref(&firm)).err().unwrap_or_default();
        let sources = stock_sources();
        let at = |finding: &Finding| {
            sources.iter().find(|source| source.id == finding.span.file).map(|s| s.at(finding.span))
        };
        let first = problems.iter().find_map(at).expect("a stock rule asks that table otherwise");
        assert!(first.starts_with("lookup(retarder-class"), "{first}");
    }
}
