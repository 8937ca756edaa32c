//! What each finding means that no rule makes: errors of texts, rule files, settings and lists.

use crate::finding::{Finding, Level};
use crate::text::Span;

/// The findings that no rule makes. What each layer says under these ids is in its `Message`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[allow(missing_docs, reason = "each has its page; the build script, which reads it too, asks for none")]
pub enum Id {
    Syntax,
    UnknownName,
    DuplicateName,
    WrongUnit,
    EmptyExtent,
    IncludeFailed,
    UnknownLayer,
    MissingProperty,
    UnknownRole,
    TooLarge,
    Unreadable,
    LeftOut,
    Internal,
    RuleSyntax,
    RuleKey,
    RuleValue,
    RuleName,
    RuleType,
    RuleUnused,
    RuleDuplicate,
    RuleAdjustment,
    RuleExample,
    ProjectSetting,
    KnownFindings,
    KnownFindingGone,
    KnownFindingRefused,
}

/// A finding's id with its meaning and its cure, for `headlap rules show ID` and the book.
#[derive(Clone, Copy, Debug)]
pub struct Page {
    /// As the finding has it.
    pub id: &'static str,
    /// In the trade's words.
    pub title: &'static str,
    /// How grave the finding is.
    pub level: Level,
    /// Some text could not be read or means nothing, so that a part of it was not checked. No waiver accepts that.
    pub unread: bool,
    /// What it means.
    pub says: &'static str,
    /// What to do about it.
    pub fix: &'static str,
}

/// The page of every id: errors of a detail's text first, then those of rule files, settings and lists.
pub static PAGES: [Page; Id::ALL.len()] = {
    let mut pages = [Id::Syntax.page(); Id::ALL.len()];
    let mut at = 0;
    while at < pages.len() {
        pages[at] = Id::ALL[at].page();
        at += 1;
    }
    pages
};

/// The page of an id, unless a rule makes that finding.
pub fn page(id: &str) -> Option<&'static Page> {
    PAGES.iter().find(|page| page.id == id)
}

const fn error(id: &'static str, title: &'static str, says: &'static str, fix: &'static str) -> Page {
    Page { id, title, level: Level::Error, unread: false, says, fix }
}

const fn unread(id: &'static str, title: &'static str, says: &'static str, fix: &'static str) -> Page {
    Page { unread: true, ..error(id, title, says, fix) }
}

const fn note(id: &'static str, title: &'static str, says: &'static str, fix: &'static str) -> Page {
    Page { level: Level::Note, ..error(id, title, says, fix) }
}

impl Id {
    /// In the order of their pages.
    pub const ALL: [Id; 26] = [
        Id::Syntax,
        Id::UnknownName,
        Id::DuplicateName,
        Id::WrongUnit,
        Id::EmptyExtent,
        Id::IncludeFailed,
        Id::UnknownLayer,
        Id::MissingProperty,
        Id::UnknownRole,
        Id::TooLarge,
        Id::Unreadable,
        Id::LeftOut,
        Id::Internal,
        Id::RuleSyntax,
        Id::RuleKey,
        Id::RuleValue,
        Id::RuleName,
        Id::RuleType,
        Id::RuleUnused,
        Id::RuleDuplicate,
        Id::RuleAdjustment,
        Id::RuleExample,
        Id::ProjectSetting,
        Id::KnownFindings,
        Id::KnownFindingGone,
        Id::KnownFindingRefused,
    ];

    /// As findings have it.
    pub const fn word(self) -> &'static str {
        self.page().id
    }

    /// From its word.
    pub fn from_word(word: &str) -> Option<Id> {
        Id::ALL.into_iter().find(|id| id.word() == word)
    }

    /// Whether it is about the text of a detail, and not about rule files, settings and lists.
    pub const fn of_text(self) -> bool {
        match self {
            Id::Syntax
            | Id::UnknownName
            | Id::DuplicateName
            | Id::WrongUnit
            | Id::EmptyExtent
            | Id::IncludeFailed
            | Id::UnknownLayer
            | Id::MissingProperty
            | Id::UnknownRole
            | Id::TooLarge
            | Id::Unreadable
            | Id::LeftOut
            | Id::Internal => true,
            Id::RuleSyntax
            | Id::RuleKey
            | Id::RuleValue
            | Id::RuleName
            | Id::RuleType
            | Id::RuleUnused
            | Id::RuleDuplicate
            | Id::RuleAdjustment
            | Id::RuleExample
            | Id::ProjectSetting
            | Id::KnownFindings
            | Id::KnownFindingGone
            | Id::KnownFindingRefused => false,
        }
    }

    /// A finding of this kind.
    pub fn at(self, span: Span, message: impl Into<String>) -> Finding {
        let page = self.page();
        Finding::new(page.id, page.title, page.level, span, message)
    }

    /// Its meaning, and what to do about it.
    pub const fn page(self) -> Page {
        match self {
            Id::Syntax => unread(
                "syntax",
                "Syntax error",
                "headlap cannot read these words as a statement, or the statement contradicts itself. What it was meant to say is not checked.",
                "Write the statement as the message shows it. `grammar/detail.pest` holds every form.",
            ),
            Id::UnknownName => unread(
                "unknown-name",
                "Undefined name",
                "Neither this file nor any file that it includes defines this name, and the rules do not list it. What depends on the name is not checked.",
                "Correct the spelling, define the name, or include the file that does.",
            ),
            Id::DuplicateName => unread(
                "duplicate-name",
                "Duplicate name",
                "Two items of one kind have this name, so a reader cannot tell which one is meant.",
                "Rename one of them.",
            ),
            Id::WrongUnit => unread(
                "wrong-unit",
                "Quantity of the wrong kind or size",
                "The number has no unit, a unit of another kind, or a size that nothing built has.",
                "Write a quantity as the message shows it, such as `150 mm` or `6 in`.",
            ),
            Id::EmptyExtent => unread(
                "empty-extent",
                "Empty extent",
                "The upper end of this extent is not above the lower one, so the piece covers nothing.",
                "Write the lower end first, and check both numbers.",
            ),
            Id::IncludeFailed => unread(
                "include-failed",
                "Failed include",
                "The included file is missing, unreadable, or outside the library. The names that it defines are unknown here.",
                "Correct the path. It starts at the folder of this file.",
            ),
            Id::UnknownLayer => unread(
                "unknown-layer",
                "Unknown layer",
                "The piece is drawn as the end of a layer that this assembly does not have.",
                "Name a layer of the assembly, or the assembly that has the layer.",
            ),
            Id::MissingProperty => note(
                "missing-property",
                "Missing property",
                "A rule needs a property that the material does not state, so the rule skips this material.",
                "Add the property to the material, with its source.",
            ),
            Id::UnknownRole => note(
                "unknown-role",
                "Unknown role",
                "The role is spelled almost like one that rules ask about. As written, no rule notices it.",
                "Correct the spelling, or choose a role of your own that cannot be confused with a known one.",
            ),
            Id::TooLarge => unread(
                "too-large",
                "Detail or assembly too large to check",
                "The detail has more pieces or edges than headlap can check in a reasonable time, and none of its laps were checked; or the assembly has more than 100 layers, and none of its numbers were computed.",
                "Split the detail into details of one interface each. Write an assembly for each part of the building.",
            ),
            Id::Unreadable => unread(
                "unreadable",
                "Unreadable file",
                "The file is missing, too large, not a regular file, not UTF-8 text, or not open to this user. Nothing in it was checked.",
                "Save the file as UTF-8 text where this user can read it, or take it off the list.",
            ),
            Id::LeftOut => unread(
                "errors-left-out",
                "Errors not listed",
                "The file has too many errors of one kind to list. The rest are only counted.",
                "Fix the first errors and check again.",
            ),
            Id::Internal => unread(
                "internal-error",
                "Internal error",
                "headlap failed while it checked this file, so nothing in it was checked. The other files were.",
                "Report the file, or the smallest part of it that still fails, with the output of `headlap --version`.",
            ),
            Id::RuleSyntax => error(
                "rule-syntax",
                "Syntax error in a rule file",
                "The file is not TOML, or an expression in it cannot be read.",
                "Correct the text at this place. `headlap rules fields` lists what an expression can ask.",
            ),
            Id::RuleKey => error(
                "rule-key",
                "Unknown or missing key",
                "Rule files have no such key here, or a required key is missing.",
                "Correct the key. `headlap schema rules` lists every key.",
            ),
            Id::RuleValue => error(
                "rule-value",
                "Invalid value",
                "The value is of the wrong kind or is not one of the allowed words.",
                "Write a value of the kind that the message asks for.",
            ),
            Id::RuleName => error(
                "rule-name",
                "Undefined name in an expression",
                "The expression names a field, table or word that does not exist.",
                "Correct the spelling. `headlap rules fields` lists the fields.",
            ),
            Id::RuleType => error(
                "rule-type",
                "Type mismatch",
                "The expression compares or adds values of different kinds, such as a length and a permeance.",
                "Compare values of one kind.",
            ),
            Id::RuleUnused => error(
                "rule-unused",
                "Unused constant",
                "The rule defines a constant that none of its expressions use, which is often a misspelled name.",
                "Use the constant or delete it.",
            ),
            Id::RuleDuplicate => error(
                "rule-duplicate",
                "Duplicate name in the rules",
                "Two rules, tables or constants have this name.",
                "Rename one, or write `replaces = true` in a rule of your own that takes the place of a built-in one.",
            ),
            Id::RuleAdjustment => error(
                "rule-adjustment",
                "Invalid adjustment",
                "The settings adjust a rule or a constant that does not exist, give a value of the wrong kind, or give no reason.",
                "Correct the adjustment. `headlap rules show RULE` lists the constants of a rule.",
            ),
            Id::RuleExample => error(
                "rule-example",
                "Failed example",
                "An example that should fail passes, or one that should pass fails.",
                "Correct the rule or the example.",
            ),
            Id::ProjectSetting => error(
                "project-setting",
                "Invalid setting",
                "A setting in headlap.toml is unknown, has a value of the wrong kind, or names a file that does not exist. Nothing was checked.",
                "Correct the setting. `headlap schema settings` lists every setting.",
            ),
            Id::KnownFindings => error(
                "known-findings",
                "Unreadable list of known findings",
                "The list of known findings cannot be read. Nothing was checked against it.",
                "Restore the list from version control, or rewrite it with `headlap review PATH --write-known FILE`.",
            ),
            Id::KnownFindingGone => note(
                "known-finding-gone",
                "Known finding that no longer occurs",
                "The list of known findings has an entry that no longer occurs. It would hide the next finding of that kind.",
                "Take it off the list with `headlap known prune`.",
            ),
            Id::KnownFindingRefused => error(
                "known-finding-refused",
                "Known finding that cannot be accepted",
                "The list of known findings has an entry for text that cannot be read. Nobody can accept what nobody can read.",
                "Correct the text and take the entry off the list with `headlap known prune`.",
            ),
        }
    }
}
