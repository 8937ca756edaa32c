//! Reports what is wrong in one text, each thing once.

use foldhash::HashSet;

use crate::finding::{Edit, Finding};
use crate::model::Name;
use crate::syntax::{Problem, Problems, several, short, unquoted};
use crate::text::{Source, Span, akin, nearest};

use crate::model::resolve::{Absent, ItemKind};

pub(in crate::model) struct Voice<'a> {
    pub source: &'a Source,
    pub problems: Problems,
    /// Unknown names that were reported.
    said: HashSet<(ItemKind, Name)>,
    /// Unknown names that an includer might give.
    pub missing: Vec<(ItemKind, Name)>,
    /// Unknown names that are reported together.
    absent: Absent,
    /// The item that is being read.
    pub item: Option<Name>,
}

impl<'a> Voice<'a> {
    /// Goes on after what was found when the text was read. `lost` is an include of the text that leads nowhere.
    pub fn new(source: &'a Source, problems: Problems, lost: Option<Span>) -> Voice<'a> {
        let absent = Absent::new(lost);
        Voice { source, problems, said: HashSet::default(), missing: Vec::new(), absent, item: None }
    }

    /// All that is wrong in the text.
    pub fn finish(mut self) -> Problems {
        self.absent.tell(&mut self.problems);
        self.problems
    }

    pub fn text(&self, span: Span) -> &'a str {
        self.source.text.get(span.range()).unwrap_or("")
    }

    pub fn name(&self, span: Span) -> Name {
        Name::from(self.text(span))
    }

    pub fn unquoted(&self, span: Span) -> String {
        unquoted(self.text(span))
    }

    pub fn say(&mut self, problem: Problem, finding: Finding) {
        let finding = finding.item(self.item.clone());
        self.problems.add(problem, finding);
    }

    /// Reports an unknown name, with the nearest known one, unless it was reported before.
    pub fn unknown<'n>(&mut self, kind: ItemKind, span: Span, known: impl IntoIterator<Item = &'n str>) {
        let name = self.name(span);
        if kind.shared() {
            self.missing.push((kind, name.clone()));
        }
        if self.said.insert((kind, name.clone())) {
            let known: Vec<&str> = known.into_iter().collect();
            let near = nearest(&name, known.iter().copied()).is_some();
            if !self.absent.take(kind, &name, span, self.item.as_ref(), near) {
                let way_out = kind.way_out(short(&name).as_ref(), &known);
                self.unknown_again(kind.phrase(), span, known, way_out);
            }
        }
    }

    /// The same for a name that is looked up in one place only; `way_out` is for a name that no known one is like.
    pub fn unknown_again<'n>(
        &mut self,
        phrase: &str,
        span: Span,
        known: impl IntoIterator<Item = &'n str>,
        way_out: String,
    ) {
        if self.problems.full(Problem::UnknownName) {
            return self.problems.add(Problem::UnknownName, Problem::UnknownName.at(span, ""));
        }
        let name = self.name(span);
        let known: Vec<&str> = known.into_iter().collect();
        let mut finding =
            Problem::UnknownName.at(span, format!("there is no {phrase} `{}`", short(&name))).about([name.clone()]);
        if let Some(close) = nearest(&name, known.iter().copied()) {
            finding = finding.fix(format!("Did you mean `{close}`?"));
            finding.edits.push(Edit { span, text: close.to_owned() });
        } else {
            let akin = akin(&name, known);
            finding = finding.fix(match akin.is_empty() {
                true => way_out,
                false => format!("Similar names: {}.", several(&akin)),
            });
        }
        self.say(Problem::UnknownName, finding);
    }

    /// Roles are free; one that no rule asks about, and that is spelled nearly as one that some rule does, is a slip.
    pub fn idle_role(&mut self, span: Span, known: &[Name]) {
        let name = self.name(span);
        let Some(close) = nearest(&name, known.iter().map(|role| &**role)).filter(|_| !known.contains(&name)) else {
            return;
        };
        if self.said.insert((ItemKind::Role, name.clone())) {
            let message = format!("no rule asks about the role `{}`, so it changes nothing", short(&name));
            let mut finding =
                Problem::UnknownRole.at(span, message).about([name]).fix(format!("Did you mean `as {close}`?"));
            finding.edits.push(Edit { span, text: close.to_owned() });
            self.say(Problem::UnknownRole, finding);
        }
    }

    /// One word of a closed list.
    pub fn word<T: Copy>(&mut self, phrase: &str, span: Span, all: &[T], word: fn(T) -> &'static str) -> Option<T> {
        let text = self.text(span);
        let found = all.iter().copied().find(|one| word(*one) == text);
        if found.is_none() {
            let words: Vec<&str> = all.iter().map(|one| word(*one)).collect();
            let way_out = format!("Write one of {}.", words.join(", "));
            self.unknown_again(phrase, span, words, way_out);
        }
        found
    }

    pub fn duplicate(&mut self, phrase: &str, span: Span, first: Span) {
        let name = self.name(span);
        let finding = Problem::DuplicateName
            .at(span, format!("duplicate {phrase} `{}`", short(&name)))
            .about([name])
            .related(first, "here is the first one")
            .fix("Rename one of the two.");
        self.say(Problem::DuplicateName, finding);
    }
}
