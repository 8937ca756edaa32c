//! The outline of a file, and the items of a library by their names.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use lsp_types::{DocumentSymbol, Location, SymbolInformation, SymbolKind, Uri};

use crate::server::State;
use crate::server::references::NamedText;
use crate::syntax::{Clause, Keyword, Statement, unquoted};
use crate::text::{Source, Span};

pub fn of_file(state: &State, uri: &Uri) -> Option<Vec<DocumentSymbol>> {
    let text = state.text(&state.path(uri)?)?;
    let source = &text.source;
    let items = text.document.items.iter().filter_map(|item| {
        let children = item.body.iter().filter_map(|statement| symbol(state, source, statement, statement.span, None));
        symbol(state, source, &item.head, item.span, Some(children.collect()))
    });
    Some(items.collect())
}

/// Materials, assemblies, details, climates and sets with these letters in their name or title.
pub fn of_libraries(state: &State, query: &str) -> Vec<SymbolInformation> {
    let query = query.to_lowercase();
    let mut found: Vec<SymbolInformation> = Vec::new();
    let mut seen: BTreeSet<PathBuf> = BTreeSet::new();
    let homes = state.libraries.homes().map(|home| home.root());
    let roots: BTreeSet<PathBuf> = homes.chain(state.libraries.folders.iter().cloned()).collect();
    for root in roots {
        for (path, text) in state.texts(&root.join("any.detail")) {
            if !seen.insert(path.clone()) {
                continue;
            }
            found.extend(items(state, &path, &text).filter(|symbol| {
                let home = symbol.container_name.as_deref().unwrap_or("");
                symbol.name.to_lowercase().contains(&query) || home.to_lowercase().contains(&query)
            }));
        }
    }
    found
}

#[expect(deprecated, reason = "the protocol's type has the field")]
fn items<'t>(state: &'t State, path: &Path, text: &'t NamedText) -> impl Iterator<Item = SymbolInformation> + use<'t> {
    let uri = state.uri(path);
    let named = text.document.items.iter().filter(|item| item.head.keyword != Keyword::Include);
    named.filter_map(move |item| {
        let (kind, name_span) = (kind(item.head.keyword)?, name(&item.head)?);
        let location = Location { uri: uri.clone()?, range: state.encoding.range(&text.source, name_span) };
        Some(SymbolInformation {
            name: unquoted(text.source.at(name_span)),
            kind,
            tags: None,
            deprecated: None,
            location,
            container_name: title(&text.source, &item.head),
        })
    })
}

#[expect(deprecated, reason = "the protocol's type has the field")]
fn symbol(
    state: &State,
    source: &Source,
    statement: &Statement,
    span: Span,
    children: Option<Vec<DocumentSymbol>>,
) -> Option<DocumentSymbol> {
    let (kind, name_span) = (kind(statement.keyword)?, name(statement)?);
    let (range, selection_range) = (state.encoding.range(source, span), state.encoding.range(source, name_span));
    let second = statement.names.second.map(|span| source.at(span).to_owned());
    let detail = match (second, title(source, statement)) {
        (Some(second), Some(title)) => Some(format!("{second}, {title}")),
        (second, title) => second.or(title),
    };
    let name = unquoted(source.at(name_span));
    Some(DocumentSymbol { name, detail, kind, tags: None, deprecated: None, range, selection_range, children })
}

fn name(statement: &Statement) -> Option<Span> {
    let text = || {
        let texts = statement.clauses.iter().filter_map(|part| match part.clause {
            Clause::Text(span) | Clause::Title(span) => Some(span),
            _ => None,
        });
        texts.into_iter().next()
    };
    statement.names.first.or_else(text).filter(|span| !span.range().is_empty())
}

fn title(source: &Source, head: &Statement) -> Option<String> {
    let title = head.clauses.iter().find_map(|part| match part.clause {
        Clause::Title(span) => Some(span),
        _ => None,
    });
    title.map(|span| unquoted(source.at(span)))
}

/// What an outline shows: items, and the pieces, layers and joints in them.
fn kind(keyword: Keyword) -> Option<SymbolKind> {
    Some(match keyword {
        Keyword::Include => SymbolKind::MODULE,
        Keyword::Climate => SymbolKind::CONSTANT,
        Keyword::Material => SymbolKind::STRUCT,
        Keyword::Assembly => SymbolKind::CLASS,
        Keyword::Detail => SymbolKind::FUNCTION,
        Keyword::Set => SymbolKind::PACKAGE,
        Keyword::Piece => SymbolKind::VARIABLE,
        Keyword::Layer => SymbolKind::FIELD,
        Keyword::Seal | Keyword::Fasten => SymbolKind::EVENT,
        Keyword::Waive => SymbolKind::KEY,
        _ => return None,
    })
}
