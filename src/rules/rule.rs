//! A rule whose every part has been checked, ready to be asked.

use std::ops::{Deref, DerefMut};
use std::sync::atomic::{AtomicU32, Ordering};
use std::sync::{Arc, OnceLock};

use crate::facts::vocabulary::Kind;
use crate::finding::{Basis, Level};
use crate::model::Name;
use crate::rules::compile::{any_value, condition};
use crate::rules::constant::Constant;
use crate::rules::expression::{Code, shared};
use crate::rules::place::Place;
use crate::rules::stock::Grounds;
use crate::rules::template::Template;
use crate::rules::written::{Head, Quoted, RawAsks, RawTells, read_prepared};
use crate::text::Span;

/// What it asks is its target: of a stock rule it is read when somebody asks for it, since most rules are not about a text
/// that is reviewed.
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
    asks: OnceLock<Asks>,
    tells: OnceLock<Tells>,
    stored: Option<Stored>,
}

/// Where a stock rule is read from.
struct Stored {
    /// The common conditions that have to be true for it to look at a thing, a bit for each.
    conditions: u128,
    asks: &'static [u8],
    tells: &'static [u8],
    grounds: Arc<Grounds>,
    /// How often it has been held against those conditions.
    came_up: AtomicU32,
}

/// What a rule asks.
pub struct Asks {
    /// The condition for looking at a thing; without one, every thing of the kind.
    pub when: Option<Code>,
    /// What has to be so.
    pub needs: Code,
    /// `when` searches lists and `needs` does not, so that it is asked first: most things are as they have to be.
    pub needs_first: bool,
    /// It finds fault with something that is not there. In a detail that could not be read whole that proves nothing.
    pub about_absence: bool,
    pub constants: Vec<Constant>,
}

/// What it says of a thing that fails it.
pub struct Tells {
    pub says: Template,
    pub fix: Option<Template>,
    pub at: Place,
    /// Findings with the same value of this become one.
    pub per: Option<Code>,
    pub basis: Arc<Vec<Basis>>,
}

/// So often a stock rule is held against the conditions that it shares with others before it is read: that costs as much as
/// some dozens of such answers.
const OFTEN: u32 = 50;

const TESTED: &str = "what is built in has been tested";

impl Rule {
    /// A stock rule, of which no more than its head is read.
    pub fn stored(head: &Head<'static>, name: Name, grounds: &Arc<Grounds>) -> Rule {
        let Head { id, title, level, about, conditions, asks, tells } = head;
        Rule {
            id: name,
            title: title.text.as_ref().into(),
            level: Level::from_word(&level.text).expect(TESTED),
            about: Kind::from_word(&about.text).expect(TESTED),
            off: false,
            span: id.whole,
            adjusted: Vec::new(),
            asks: OnceLock::new(),
            tells: OnceLock::new(),
            stored: Some(Stored {
                conditions: *conditions,
                asks,
                tells,
                grounds: grounds.clone(),
                came_up: AtomicU32::new(0),
            }),
        }
    }

    /// One of which all has been read: its id, its title, and what it asks and says.
    pub fn read((id, title): (&Quoted<'_>, &Quoted<'_>), level: Level, about: Kind, asks: Asks, tells: Tells) -> Rule {
        Rule {
            id: id.text.as_ref().into(),
            title: title.text.as_ref().into(),
            level,
            about,
            off: false,
            span: id.whole,
            adjusted: Vec::new(),
            asks: asks.into(),
            tells: tells.into(),
            stored: None,
        }
    }

    /// The shared conditions that have to be true for it to look at a thing, a bit for each.
    pub fn conditions(&self) -> u128 {
        self.stored.as_ref().map_or_else(|| self.when.as_ref().map_or(0, shared), |stored| stored.conditions)
    }

    /// Whether what it asks has been read.
    pub fn is_read(&self) -> bool {
        self.asks.get().is_some()
    }

    /// Whether it holds a field of this name against this word, for any thing that it looks at.
    pub fn compares(&self, field: &str, word: &str) -> bool {
        let conditions = self.when.iter().chain([&self.needs]);
        conditions.into_iter().any(|code| code.compares(field, word, &self.constants))
    }

    /// Whether to ask it at once: it has been read, or has come up so often that to hold it against shared conditions first
    /// has cost more than to read it.
    pub fn is_wanted(&self) -> bool {
        let often = |stored: &Stored| stored.came_up.fetch_add(1, Ordering::Relaxed) >= OFTEN;
        self.is_read() || self.stored.as_ref().is_none_or(often)
    }

    fn asks(&self) -> &Asks {
        self.asks.get_or_init(|| self.stored.as_ref().expect(TESTED).asks(self.about))
    }

    pub fn tells(&self) -> &Tells {
        self.tells.get_or_init(|| self.stored.as_ref().expect(TESTED).tells(self.about, &self.constants))
    }

    pub fn tells_mut(&mut self) -> &mut Tells {
        self.tells();
        self.tells.get_mut().expect(TESTED)
    }
}

impl Deref for Rule {
    type Target = Asks;

    fn deref(&self) -> &Asks {
        self.asks()
    }
}

impl DerefMut for Rule {
    fn deref_mut(&mut self) -> &mut Asks {
        self.asks();
        self.asks.get_mut().expect(TESTED)
    }
}

impl Stored {
    fn asks(&self, about: Kind) -> Asks {
        let RawAsks { when, needs, constants } = read_prepared(self.asks);
        // All are used somewhere.
        let used = |constant| Constant { used: true, ..Constant::from(constant) };
        let mut constants: Vec<Constant> = constants.into_iter().map(used).collect();
        let mut checker = self.grounds.checker(about, &mut constants);
        let when = when.as_ref().map(|form| condition(form, &mut checker).expect(TESTED));
        let needs = condition(&needs, &mut checker).expect(TESTED);
        Asks::of(when, needs, constants)
    }

    fn tells(&self, about: Kind, constants: &[Constant]) -> Tells {
        let RawTells { says, fix, at, per, basis } = read_prepared(self.tells);
        let mut constants = constants.to_vec();
        let mut checker = self.grounds.checker(about, &mut constants);
        Tells {
            says: Template::compile(&says, &mut checker),
            fix: fix.as_ref().map(|fix| Template::compile(fix, &mut checker)),
            per: per.as_ref().map(|per| any_value(per, &mut checker).expect(TESTED)),
            at: Place::resolve(at.as_ref(), about, &mut Vec::new()).expect(TESTED),
            basis: basis.into(),
        }
    }
}

impl Asks {
    pub fn of(when: Option<Code>, needs: Code, constants: Vec<Constant>) -> Asks {
        Asks {
            needs_first: when.as_ref().is_some_and(Code::searches) && !needs.searches(),
            about_absence: needs.could_be() || when.as_ref().is_some_and(Code::rests_on_others),
            when,
            needs,
            constants,
        }
    }
}
