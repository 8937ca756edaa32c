//! A checked rule, ready to be evaluated.

use std::ops::{Deref, DerefMut};
use std::sync::{Arc, OnceLock};

use crate::facts::vocabulary::Kind;
use crate::finding::{Basis, Level};
use crate::model::Name;
use crate::rules::compile::{any_value, condition};
use crate::rules::constant::Constant;
use crate::rules::expression::Code;
use crate::rules::place::FindingPlace;
use crate::rules::stock::StockContext;
use crate::rules::template::Template;
use crate::rules::written::{Quoted, RawRequirement, RawWording, RuleHead, read_prepared};
use crate::text::Span;

/// It dereferences to its requirement, which for a stock rule is read on demand: most rules have nothing to do with a given
/// text.
pub struct Rule {
    pub id: Name,
    pub title: Name,
    pub level: Level,
    pub about: Kind,
    /// A project has switched it off.
    pub off: bool,
    /// The id in its file.
    pub span: Span,
    /// What a project has changed, and why.
    pub adjusted: Vec<String>,
    requirement: OnceLock<Requirement>,
    wording: OnceLock<Wording>,
    stored: Option<StoredRule>,
}

/// Where a stock rule is read from.
struct StoredRule {
    requirement: &'static [u8],
    needs: &'static [u8],
    wording: &'static [u8],
    stock: Arc<StockContext>,
}

/// What a rule requires.
pub struct Requirement {
    /// The condition for looking at a thing; without one, every thing of the kind.
    pub when: Option<Code>,
    /// The condition that must hold. For a stock rule it is read when the rule first looks at something.
    needs: OnceLock<Code>,
    /// True if `when` searches lists and `needs` does not. `needs` then goes first, since most things satisfy it.
    pub needs_first: bool,
    pub constants: Vec<Constant>,
}

/// What it says about a thing that fails it.
pub struct Wording {
    pub says: Template,
    pub fix: Option<Template>,
    pub at: FindingPlace,
    /// Findings with the same value of this are merged.
    pub per: Option<Code>,
    pub basis: Arc<Vec<Basis>>,
}

const TESTED: &str = "what is built in has been tested";

impl Rule {
    /// A stock rule of which only the head has been read.
    pub fn stored(head: &RuleHead<'static>, name: Name, stock: &Arc<StockContext>) -> Rule {
        let RuleHead { id, title, level, about, requirement, needs, wording } = head;
        Rule {
            id: name,
            title: title.text.as_ref().into(),
            level: Level::from_word(&level.text).expect(TESTED),
            about: Kind::from_word(&about.text).expect(TESTED),
            off: false,
            span: id.whole,
            adjusted: Vec::new(),
            requirement: OnceLock::new(),
            wording: OnceLock::new(),
            stored: Some(StoredRule { requirement, needs, wording, stock: stock.clone() }),
        }
    }

    /// A rule that has been read whole: its id, its title, its requirement and its wording.
    pub fn read(
        (id, title): (&Quoted<'_>, &Quoted<'_>),
        level: Level,
        about: Kind,
        requirement: Requirement,
        wording: Wording,
    ) -> Rule {
        Rule {
            id: id.text.as_ref().into(),
            title: title.text.as_ref().into(),
            level,
            about,
            off: false,
            span: id.whole,
            adjusted: Vec::new(),
            requirement: requirement.into(),
            wording: wording.into(),
            stored: None,
        }
    }

    /// Whether its requirement has been read.
    #[cfg(test)]
    pub fn is_read(&self) -> bool {
        self.requirement.get().is_some()
    }

    /// Whether it compares a field of this name with this word.
    pub fn compares(&self, field: &str, word: &str) -> bool {
        let conditions = self.when.iter().chain([self.needs()]);
        conditions.into_iter().any(|code| code.compares(field, word, &self.constants))
    }

    /// The condition that must hold.
    pub fn needs(&self) -> &Code {
        self.needs.get_or_init(|| self.stored.as_ref().expect(TESTED).needs(self.about, &mut self.constants.clone()))
    }

    /// Whether it reports that something is absent, which proves nothing in a detail that could not be read whole.
    pub fn about_absence(&self) -> bool {
        self.needs().could_come_from_unread() || self.when.as_ref().is_some_and(Code::rests_on_others)
    }

    /// Its constants with all lists that their words were held against.
    pub fn constants_in_use(&self) -> Vec<Constant> {
        let Some(stored) = &self.stored else { return self.constants.clone() };
        let mut constants = stored.requirement(self.about).constants;
        stored.needs(self.about, &mut constants);
        let now = |(constant, now): (Constant, &Constant)| Constant { value: now.value.clone(), ..constant };
        constants.into_iter().zip(&self.constants).map(now).collect()
    }

    fn requirement(&self) -> &Requirement {
        self.requirement.get_or_init(|| self.stored.as_ref().expect(TESTED).requirement(self.about))
    }

    pub fn wording(&self) -> &Wording {
        self.wording.get_or_init(|| self.stored.as_ref().expect(TESTED).wording(self.about, &self.constants))
    }

    pub fn wording_mut(&mut self) -> &mut Wording {
        self.wording();
        self.wording.get_mut().expect(TESTED)
    }
}

impl Deref for Rule {
    type Target = Requirement;

    fn deref(&self) -> &Requirement {
        self.requirement()
    }
}

impl DerefMut for Rule {
    fn deref_mut(&mut self) -> &mut Requirement {
        self.requirement();
        self.requirement.get_mut().expect(TESTED)
    }
}

impl StoredRule {
    fn requirement(&self, about: Kind) -> Requirement {
        let RawRequirement { when, needs_first, constants } = read_prepared(self.requirement);
        // All are used somewhere.
        let used = |constant| Constant { used: true, ..Constant::from(constant) };
        let mut constants: Vec<Constant> = constants.into_iter().map(used).collect();
        let mut checker = self.stock.checker(about, &mut constants);
        let when = when.as_ref().map(|form| condition(form, &mut checker).expect(TESTED));
        Requirement { when, needs: OnceLock::new(), needs_first, constants }
    }

    fn needs(&self, about: Kind, constants: &mut [Constant]) -> Code {
        condition(&read_prepared(self.needs), &mut self.stock.checker(about, constants)).expect(TESTED)
    }

    fn wording(&self, about: Kind, constants: &[Constant]) -> Wording {
        let RawWording { says, fix, at, per, basis } = read_prepared(self.wording);
        let mut constants = constants.to_vec();
        let mut checker = self.stock.checker(about, &mut constants);
        Wording {
            says: Template::compile(&says, &mut checker),
            fix: fix.as_ref().map(|fix| Template::compile(fix, &mut checker)),
            per: per.as_ref().map(|per| any_value(per, &mut checker).expect(TESTED)),
            at: FindingPlace::resolve(at.as_ref(), about, &mut Vec::new()).expect(TESTED),
            basis: basis.into(),
        }
    }
}

impl Requirement {
    pub fn of(when: Option<Code>, needs: Code, constants: Vec<Constant>) -> Requirement {
        Requirement {
            needs_first: when.as_ref().is_some_and(Code::searches) && !needs.searches(),
            when,
            needs: needs.into(),
            constants,
        }
    }
}
