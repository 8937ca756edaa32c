//! What may stand at the cursor, by what stands before it.

mod wanted;

use std::collections::BTreeMap;

use lsp_types::{
    CompletionItem, CompletionItemKind, CompletionParams, CompletionTextEdit, Documentation, Range, TextEdit,
};

use crate::about::NameKind;
use crate::about::{Before, before, meaning, role_meaning};
use crate::model::{AssemblyKind, Control, FoldKind, MaterialKind, builtin_names};
use crate::project::{self, Project};
use crate::quantity::units_of;
use crate::server::State;
use crate::server::due::due;
use crate::server::references::NamedText;
use crate::syntax::{ClauseKind, Form, ITEMS, Keyword, statements_of, want_of};
use crate::text::Span;
use wanted::{WantedName, wanted};

pub fn complete(state: &State, asked: &CompletionParams) -> Option<Vec<CompletionItem>> {
    let at = &asked.text_document_position;
    let path = state.path(&at.text_document.uri)?;
    if !project::is_named_detail(&path) {
        return None;
    }
    let text = state.text(&path)?;
    let offset = state.encoding.offset(&text.source, at.position);
    let library = state.libraries.of(&path)?;
    let before = before(&text.source.text, offset);
    let quoted = before.as_ref().is_some_and(|before| before.in_quotes);
    let typed = Span::new(text.source.id, begin(&text.source.text[..offset], quoted), offset);
    let typed = state.encoding.range(&text.source, typed);
    let mut offer = Completions { state, path: &path, text: &text, library, offset, typed, found: BTreeMap::new() };
    if let Some(before) = before {
        offer.at(&before);
    }
    Some(offer.found.into_values().collect())
}

/// Where the word begins that is being typed. Names hold signs at which many editors end a word, so they are sent the range that is replaced.
fn begin(before: &str, quoted: bool) -> usize {
    let ends =
        |sign: char| if quoted { "\"\n".contains(sign) } else { sign.is_whitespace() || ",;{}\"".contains(sign) };
    before.rfind(ends).map_or(0, |at| at + before[at..].chars().next().map_or(0, char::len_utf8))
}

struct Completions<'a> {
    state: &'a State,
    path: &'a std::path::Path,
    text: &'a NamedText,
    library: &'a Project,
    offset: usize,
    /// What the next word takes the place of.
    typed: Range,
    found: BTreeMap<String, CompletionItem>,
}

impl Completions<'_> {
    fn at(&mut self, before: &Before) {
        let words: Vec<&str> = before.words.iter().map(String::as_str).collect();
        if before.in_quotes {
            if words.first() == Some(&"include") {
                self.files();
            }
            return;
        }
        let forms = before.item.map_or(ITEMS, statements_of);
        let Some(form) = words.first().and_then(|first| forms.iter().find(|form| form.word == *first)) else {
            return self.statements(forms, before.item);
        };
        if words.last().is_some_and(|last| is_number(last)) {
            self.units(form, &words);
        }
        let wanted = wanted(form.keyword, &words);
        match wanted {
            Some(names) => names.iter().for_each(|name| self.names(*name)),
            None => self.clauses(form, &words),
        }
    }

    fn put(&mut self, label: &str, kind: CompletionItemKind, detail: Option<&str>, more: Option<String>) {
        let edit = TextEdit { range: self.typed, new_text: label.to_owned() };
        let item = CompletionItem {
            label: label.to_owned(),
            text_edit: Some(CompletionTextEdit::Edit(edit)),
            kind: Some(kind),
            detail: detail.map(str::to_owned),
            documentation: more.map(Documentation::String),
            ..CompletionItem::default()
        };
        self.found.entry(label.to_owned()).or_insert(item);
    }

    fn statements(&mut self, forms: &[Form], item: Option<Keyword>) {
        for form in forms {
            let meaning = meaning(form.word).map(str::to_owned);
            self.put(form.word, CompletionItemKind::KEYWORD, Some(&form.shape.replace('`', "")), meaning);
        }
        if item.is_none() && forms.is_empty() {
            self.found.clear();
        }
    }

    /// The clauses that the statement may still have.
    fn clauses(&mut self, form: &Form, words: &[&str]) {
        for kind in
            form.clauses.iter().filter(|kind| kind.repeats() || !kind.word().is_some_and(|w| words.contains(&w)))
        {
            match kind.word() {
                Some("with") if *kind == ClauseKind::Drip => {
                    self.put("with drip", CompletionItemKind::PROPERTY, None, None)
                }
                Some(word) => {
                    let meaning = meaning(word).map(str::to_owned);
                    self.put(word, CompletionItemKind::PROPERTY, Some(kind.shape()), meaning);
                }
                None => {}
            }
        }
        due(form, words).into_iter().for_each(|word| self.word(word));
    }

    fn word(&mut self, word: &str) {
        self.put(word, CompletionItemKind::KEYWORD, None, None);
    }

    fn units(&mut self, form: &Form, words: &[&str]) {
        let begins = |word: &&str| form.clauses.iter().copied().find(|kind| kind.word() == Some(*word));
        let at = words.iter().rposition(|word| begins(word).is_some());
        let kind = at.and_then(|at| begins(&words[at])).or(match form.keyword {
            Keyword::Outdoor => Some(ClauseKind::Outdoor),
            Keyword::Indoor => Some(ClauseKind::Indoor),
            _ => None,
        });
        // Of a temperature and a humidity, the second has another unit.
        let numbers = words[at.unwrap_or(0)..].iter().filter(|word| is_number(word)).count();
        let want = kind.map_or_else(|| want_of(form.keyword), |kind| kind.want(numbers == 1));
        let units = want.dimensions.iter().flat_map(|dimension| units_of(*dimension));
        for unit in units.filter(|unit| !unit.symbol.is_empty()) {
            self.put(unit.symbol, CompletionItemKind::UNIT, None, None);
        }
    }

    fn names(&mut self, wanted: WantedName) {
        let words = &self.library.pack.words;
        let list = |names: &[crate::model::Name]| names.iter().map(ToString::to_string).collect::<Vec<_>>();
        let plain: Vec<String> = match wanted {
            WantedName::Material(kinds) => return self.materials(kinds),
            WantedName::Assembly | WantedName::Climate => return self.items(wanted),
            WantedName::Piece => return self.pieces(),
            WantedName::Rule => {
                for rule in self.library.pack.rules.iter().filter(|rule| !rule.off) {
                    self.put(&rule.id, CompletionItemKind::EVENT, Some(&rule.title), None);
                }
                return;
            }
            WantedName::Kind => {
                for (name, kind) in words.kinds.clone() {
                    self.put(&name, CompletionItemKind::ENUM_MEMBER, Some(&kind.title), None);
                }
                return;
            }
            WantedName::Role => {
                for role in &words.roles {
                    self.put(role, CompletionItemKind::ENUM_MEMBER, role_meaning(role), None);
                }
                return;
            }
            WantedName::Surface => list(&words.surfaces),
            WantedName::Substance => list(&words.substances),
            WantedName::Adhesive => list(&words.adhesives),
            WantedName::Control => Control::ALL.map(|c| c.word().to_owned()).into(),
            WantedName::MaterialKind => MaterialKind::ALL.map(|kind| kind.word().to_owned()).into(),
            WantedName::AssemblyKind => AssemblyKind::ALL.map(|kind| kind.word().to_owned()).into(),
            WantedName::Fold => FoldKind::ALL.map(|kind| kind.word().to_owned()).into(),
            WantedName::New => Vec::new(),
        };
        plain.iter().for_each(|word| self.put(word, CompletionItemKind::ENUM_MEMBER, None, None));
    }

    fn materials(&mut self, kinds: &[MaterialKind]) {
        let Some(reading) = self.state.reading(self.path) else { return };
        for material in reading.library.all_materials() {
            if kinds.is_empty() || material.kind.is_some_and(|kind| kinds.contains(&kind)) {
                let kind = material.kind.map_or("", MaterialKind::word);
                self.put(&material.name, CompletionItemKind::STRUCT, Some(kind), material.title.clone());
            }
        }
    }

    fn items(&mut self, wanted: WantedName) {
        let Some(reading) = self.state.reading(self.path) else { return };
        if matches!(wanted, WantedName::Climate) {
            for climate in reading.library.all_climates() {
                self.put(&climate.name, CompletionItemKind::CONSTANT, climate.title.as_deref(), None);
            }
            return;
        }
        for assembly in reading.library.all_assemblies() {
            self.put(&assembly.name, CompletionItemKind::CLASS, Some(assembly.kind.word()), assembly.title.clone());
        }
    }

    /// The pieces of the detail that the cursor is in.
    fn pieces(&mut self) {
        let (text, offset) = (self.text, self.offset);
        let Some(item) = text.document.items.iter().rposition(|item| item.span.range().start <= offset) else { return };
        let own = text.mentions.iter().filter(|m| m.item == item && m.defines && m.kind == NameKind::Piece);
        own.for_each(|m| self.put(text.source.at(m.span), CompletionItemKind::VARIABLE, None, None));
    }

    fn files(&mut self) {
        builtin_names().for_each(|name| self.put(name, CompletionItemKind::FILE, Some("built in"), None));
        let folder = self.path.parent().unwrap_or(self.path).to_path_buf();
        let state = self.state;
        let started = state.libraries.started(self.path);
        let walked = project::library_of(self.path, &state.unsaved, &state.working, started);
        for found in &walked.files {
            let path = found.path(&self.state.working);
            if path != self.path
                && let Some(name) = from(&folder, &path)
            {
                self.put(&name, CompletionItemKind::FILE, None, None);
            }
        }
    }
}

fn is_number(word: &str) -> bool {
    word.trim_start_matches('-').starts_with(|c: char| c.is_ascii_digit())
}

/// The way from a folder to a file, with `/` and `..`.
fn from(folder: &std::path::Path, file: &std::path::Path) -> Option<String> {
    let common = folder.components().zip(file.components()).take_while(|(a, b)| a == b).count();
    let up = folder.components().skip(common).map(|_| "..".to_owned());
    let down = file.components().skip(common).map(|part| part.as_os_str().to_str().map(str::to_owned));
    let parts: Option<Vec<String>> = up.map(Some).chain(down).collect();
    Some(parts?.join("/"))
}
