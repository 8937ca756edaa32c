//! The one currency: what was found, where, why it matters and what to do. Made early, printed late.

mod basis;
mod level;
mod page;
mod part;

use std::fmt;
use std::ops::{Deref, DerefMut};
use std::sync::Arc;

use crate::text::Span;
pub use basis::{Basis, Known};
pub use level::Level;
pub use page::{Id, PAGES, Page, page};
pub use part::{Edit, Related, Step, Waived};

/// One thing that is wrong, or worth a look, under the words at fault.
///
/// ```
/// use headlap::{FileId, Finding, Level, Span};
///
/// let span = Span::new(FileId::detail(0), 0, 4);
/// let finding = Finding::new("firm-rule", "Firm rule", Level::Warning, span, "this lap is short");
/// assert!(finding.open() && !finding.unread());
/// ```
#[derive(Clone, PartialEq)]
pub struct Finding(Box<Said>);

/// What a finding says. It lies behind the finding, since runs sort and hand on lists of a hundred thousand.
///
/// ```
/// use headlap::{FileId, Finding, Level, Said, Span};
///
/// let span = Span::new(FileId::detail(0), 0, 4);
/// let finding = Finding::new("firm-rule", "Firm rule", Level::Warning, span, "this lap is short");
/// let said: &Said = &finding;
/// assert_eq!(said.message, "this lap is short");
/// ```
#[non_exhaustive]
#[derive(Clone, Debug, PartialEq)]
pub struct Said {
    /// Id of the rule, or of the text error (`syntax`, `unknown-name`, …).
    pub rule: Arc<str>,
    /// Title of the rule in the trade's words.
    pub title: Arc<str>,
    /// How grave it is.
    pub level: Level,
    /// What is wrong, where, and what the water does.
    pub message: String,
    /// The very words at fault.
    pub span: Span,
    /// The detail, assembly, material or set that it is in.
    pub item: Option<Arc<str>>,
    /// The names it is about, in the order that the rule's sentence has them.
    pub subject: Vec<Arc<str>>,
    /// The numbers that decided, as (name, text with unit).
    pub values: Vec<(Arc<str>, Arc<str>)>,
    /// What to do about it.
    pub fix: Option<Arc<str>>,
    /// Edits that would cure it, when the tool knows them for certain.
    pub edits: Vec<Edit>,
    /// Where the opinion of its rule comes from.
    pub basis: Arc<Vec<Basis>>,
    /// What its rule groups findings by: those of one home with the same cause are gathered into one, and then it is gone.
    pub cause: Option<Box<str>>,
    /// Other places that have a part in it: the other piece, the assembly's layer.
    pub related: Vec<Related>,
    /// The path of the drop, when the finding is about one, in plain words with heights.
    pub trail: Vec<Step>,
    /// The waiver that covers it.
    pub waived: Option<Box<Waived>>,
    /// It stands on the list of findings that were there before the tool was; only new ones fail a run.
    pub listed: bool,
}

/// Whether findings of this id say that some text could not be read or means nothing, so that a part of it was not checked.
pub fn unread(id: &str) -> bool {
    page(id).is_some_and(|page| page.unread)
}

impl From<Said> for Finding {
    fn from(said: Said) -> Finding {
        Finding(Box::new(said))
    }
}

impl From<Finding> for Said {
    fn from(finding: Finding) -> Said {
        *finding.0
    }
}

impl Deref for Finding {
    type Target = Said;

    fn deref(&self) -> &Said {
        &self.0
    }
}

impl DerefMut for Finding {
    fn deref_mut(&mut self) -> &mut Said {
        &mut self.0
    }
}

impl fmt::Debug for Finding {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

impl Finding {
    /// A finding with only the parts that every finding has.
    pub fn new(rule: &str, title: &str, level: Level, span: Span, message: impl Into<String>) -> Finding {
        Finding::from(Said {
            rule: rule.into(),
            title: title.into(),
            level,
            message: message.into(),
            span,
            item: None,
            subject: Vec::new(),
            values: Vec::new(),
            fix: None,
            edits: Vec::new(),
            basis: Arc::default(),
            cause: None,
            related: Vec::new(),
            trail: Vec::new(),
            waived: None,
            listed: false,
        })
    }

    /// Some text was not checked. No waiver accepts that: its content is not known.
    pub fn unread(&self) -> bool {
        unread(&self.rule)
    }

    /// Neither a waiver nor the list of known findings accepts it.
    pub fn open(&self) -> bool {
        self.waived.is_none() && !self.listed
    }

    /// Adds another place, unless it is there already.
    pub fn relate(&mut self, span: Span, message: impl Into<Arc<str>>) {
        let known = self.span.file == span.file && self.span.start <= span.start && span.end <= self.span.end;
        if !known && self.related.iter().all(|related| related.span != span) {
            self.related.push(Related { span, message: message.into() });
        }
    }

    /// Gives back the room that its message and its lists have to grow: a run may hold a hundred thousand.
    pub(crate) fn shrink(&mut self) {
        self.message.shrink_to_fit();
        self.subject.shrink_to_fit();
        self.values.shrink_to_fit();
        self.edits.shrink_to_fit();
        self.related.shrink_to_fit();
        self.trail.shrink_to_fit();
    }

    /// The words that other findings may say too. A message has numbers and names of its own, as a rule.
    pub(crate) fn words(&mut self) -> impl Iterator<Item = &mut Arc<str>> {
        let Said { rule, title, item, subject, values, fix, related, trail, .. } = &mut *self.0;
        let head = [rule, title].into_iter().chain(item).chain(fix).chain(subject);
        let values = values.iter_mut().flat_map(|(name, value)| [name, value]);
        let related = related.iter_mut().map(|related| &mut related.message);
        head.chain(values).chain(related).chain(trail.iter_mut().map(|step| &mut step.message))
    }

    /// With what to do about it.
    pub fn fix(mut self, fix: impl Into<Arc<str>>) -> Finding {
        self.fix = Some(fix.into());
        self
    }

    /// With the detail, assembly, material or set that it is in.
    pub fn item(mut self, item: Option<Arc<str>>) -> Finding {
        self.item = item;
        self
    }

    /// With the names that it is about.
    pub fn about(mut self, subject: impl IntoIterator<Item = Arc<str>>) -> Finding {
        self.subject.extend(subject);
        self
    }

    /// With words that would cure it in the place of others.
    pub fn edit(mut self, span: Span, text: impl Into<String>) -> Finding {
        self.edits.push(Edit { span, text: text.into() });
        self
    }

    /// With another place that has a part in it.
    pub fn related(mut self, span: Span, message: impl Into<Arc<str>>) -> Finding {
        self.related.push(Related { span, message: message.into() });
        self
    }
}
