//! What each finding means that no rule makes: errors of texts, rule files, settings and lists.

use crate::finding::Level;

/// A finding's id with its meaning and its cure, for `headlap rules show ID`.
#[derive(Clone, Copy, Debug)]
pub struct Page {
    /// As the finding has it.
    pub id: &'static str,
    /// In the trade's words.
    pub title: &'static str,
    /// How grave the finding is.
    pub level: Level,
    /// What it means.
    pub says: &'static str,
    /// What to do about it.
    pub fix: &'static str,
}

/// The page of an id, unless a rule makes that finding.
pub fn page(id: &str) -> Option<&'static Page> {
    PAGES.iter().find(|page| page.id == id)
}

const fn error(id: &'static str, title: &'static str, says: &'static str, fix: &'static str) -> Page {
    Page { id, title, level: Level::Error, says, fix }
}

const fn note(id: &'static str, title: &'static str, says: &'static str, fix: &'static str) -> Page {
    Page { level: Level::Note, ..error(id, title, says, fix) }
}

/// Errors of a detail's text first, then those of rule files, settings and lists.
pub const PAGES: [Page; 26] = [
    error(
        "syntax",
        "Words that cannot be read",
        "The words at this place do not form a statement of the language, or a statement contradicts itself. What they were meant to say is not checked.",
        "Write the statement as the message shows it. `grammar/detail.pest` holds every form.",
    ),
    error(
        "unknown-name",
        "Undefined name",
        "No file of the include tree defines this name, and no list of the rules has it. What depends on the name is not checked.",
        "Correct the spelling, define the name, or include the file that does.",
    ),
    error(
        "duplicate-name",
        "Duplicate name",
        "Two items of one kind have this name, so a reader cannot tell which one is meant.",
        "Rename one of them.",
    ),
    error(
        "wrong-unit",
        "Quantity of the wrong kind or size",
        "The number has no unit, a unit of another kind, or a size that nothing built has.",
        "Write a quantity as the message shows it, such as `150 mm` or `6 in`.",
    ),
    error(
        "empty-extent",
        "Extent without size",
        "The upper end of this extent is not above the lower one, so the piece covers nothing.",
        "Write the lower end first, and check both numbers.",
    ),
    error(
        "include-failed",
        "Include without a file",
        "The included file is missing, cannot be read, or lies outside of the library. Its names are unknown here.",
        "Correct the path. It starts at the folder of the including file.",
    ),
    error(
        "unknown-layer",
        "Layer that the assembly does not have",
        "The piece says that it ends a layer of this assembly, and the assembly has no such layer.",
        "Name a layer of the assembly, or the assembly that has the layer.",
    ),
    note(
        "missing-property",
        "Property that a rule needs",
        "A rule needs a property that the material does not state. The rule is silent for this material.",
        "Add the property to the material, with its source.",
    ),
    note(
        "unknown-role",
        "Role that no rule asks about",
        "The role is spelled nearly as one that rules ask about. As it is written, no rule takes any notice of it.",
        "Correct the spelling, or choose a role of your own that is not so close to a known one.",
    ),
    error(
        "too-large",
        "Detail or assembly too large to check",
        "The detail has more pieces or edges than can be worked out in a bounded time, and none of its laps were checked; or the assembly has more than 100 layers, and none of its numbers were worked out.",
        "Split the detail into details of one interface each. Write an assembly for each part of the building.",
    ),
    error(
        "unreadable",
        "File that cannot be read",
        "The file is missing, closed to this user, too large, not a regular file, or not UTF-8 text. Nothing in it was checked.",
        "Save the file as UTF-8 text where this user can read it, or take it off the list.",
    ),
    error(
        "errors-left-out",
        "More errors than are listed",
        "The file has so many errors of one kind that the rest are counted and not listed.",
        "Mend the first errors and check again.",
    ),
    error(
        "internal-error",
        "Error within headlap",
        "headlap failed while it checked this file, so nothing in it was checked. The other files were.",
        "Report the file, or the smallest part of it that still fails, with the output of `headlap --version`.",
    ),
    error(
        "rule-syntax",
        "Rule file that cannot be read",
        "The file is not TOML, or an expression in it cannot be read.",
        "Correct the text at this place. `headlap rules fields` lists what an expression may ask.",
    ),
    error(
        "rule-key",
        "Key that a rule file does not have, or lacks",
        "A rule file has no such key here, or a required key is missing.",
        "Correct the key. `headlap schema rules` lists every key.",
    ),
    error(
        "rule-value",
        "Value that a rule file cannot hold there",
        "The value is of the wrong kind or is not one of the allowed words.",
        "Write a value of the kind that the message names.",
    ),
    error(
        "rule-name",
        "Name that nothing has",
        "The expression names a field, table or word that does not exist.",
        "Correct the spelling. `headlap rules fields` lists the fields.",
    ),
    error(
        "rule-type",
        "Expression whose parts do not fit together",
        "The expression compares or adds values of different kinds, such as a length and a permeance.",
        "Compare values of one kind.",
    ),
    error(
        "rule-unused",
        "Constant that no expression uses",
        "The rule defines a constant that none of its expressions use, which is often a misspelled name.",
        "Use the constant or delete it.",
    ),
    error(
        "rule-duplicate",
        "Two of one name",
        "Two rules, tables or constants have this name.",
        "Rename one, or write `replaces = true` in a rule of your own that takes the place of a built-in one.",
    ),
    error(
        "rule-adjustment",
        "Adjustment that cannot be made",
        "The settings adjust a rule or a constant that does not exist, give a value of the wrong kind, or give no reason.",
        "Correct the adjustment. `headlap rules show RULE` lists the constants of a rule.",
    ),
    error(
        "rule-example",
        "Example that a rule does not bear out",
        "An example of the rule does not do what it says: one that should fail passes, or the other way round.",
        "Correct the rule or the example.",
    ),
    error(
        "project-setting",
        "Setting that cannot be used",
        "A setting of headlap.toml is unknown, is of the wrong kind, or leads to a file that is not there. Nothing was checked.",
        "Correct the setting. `headlap schema settings` lists every setting.",
    ),
    error(
        "known-findings",
        "List of known findings that cannot be used",
        "The list of known findings cannot be read. Nothing was checked against it.",
        "Restore the list from version control, or write it anew with `headlap review PATH --write-known FILE`.",
    ),
    note(
        "known-finding-gone",
        "Known finding that is gone",
        "The list of known findings holds one that no longer occurs. It would hide the next finding of that kind.",
        "Take it off the list with `headlap known prune`.",
    ),
    error(
        "known-finding-refused",
        "Known finding that cannot be accepted",
        "The list of known findings holds an error of the text. Nobody knows what stands at a place that cannot be read, so nobody can accept it.",
        "Mend the text and take the entry off the list with `headlap known prune`.",
    ),
];
