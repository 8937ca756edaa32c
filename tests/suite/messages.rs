//! What each layer can say, one message after the other as its users read it.

use std::collections::BTreeSet;
use std::fmt::{Debug, Write};
use std::path::Path;
use std::sync::Arc;

use headlap::finding::{Finding, Id};
use headlap::model::{self, ItemKind, Library, Name, SourceMap, Use};
use headlap::project;
use headlap::quantity::{Dimension, Quantity, parse_quantity};
use headlap::settings;
use headlap::syntax::{self, ClauseKind, Close, Form, Habit, ITEMS, Keyword, statements_of, want_of};
use headlap::text::{FileId, Source, Span};

use crate::review::pack;

/// The variants of the enum `Message` in the text of its file.
fn variants(file: &str) -> BTreeSet<&str> {
    variants_of("Message", file)
}

fn variants_of<'f>(name: &str, file: &'f str) -> BTreeSet<&'f str> {
    let (_, rest) = file.split_once(&format!("pub enum {name}")).expect("a list of messages");
    let (list, _) = rest.split_once("\n}\n").expect("it ends");
    let words = list.lines().skip(1).filter_map(|line| line.strip_prefix("    "));
    words
        .map(|line| line.split(|c: char| !c.is_alphanumeric()).next().unwrap_or_default())
        .filter(|word| word.starts_with(char::is_uppercase))
        .collect()
}

/// The name of a variant.
fn name_of(message: &impl Debug) -> String {
    format!("{message:?}").split(|c: char| !c.is_alphanumeric()).next().unwrap_or_default().to_owned()
}

/// The messages as a page; holds that each of the file is among them and has an id with a page.
fn page<M: Debug + Clone>(messages: &[M], file: &str, at: fn(M) -> Finding) -> String {
    let mut page = String::new();
    let mut shown = BTreeSet::new();
    for message in messages {
        let name = name_of(message);
        let finding = at(message.clone());
        assert!(Id::from_word(&finding.rule).is_some(), "{} has no page", finding.rule);
        writeln!(page, "{name} ({})\n  {}", finding.rule, finding.message).expect("a string");
        finding.related.iter().for_each(|related| writeln!(page, "  - {}", related.message).expect("a string"));
        finding.fix.iter().for_each(|fix| writeln!(page, "  > {fix}").expect("a string"));
        shown.insert(name);
    }
    let all: BTreeSet<String> = variants(file).into_iter().map(str::to_owned).collect();
    assert_eq!(shown, all, "messages shown here, and messages of the file");
    page
}

fn here() -> Span {
    Span::new(FileId::detail(0), 8, 12)
}

fn quantity(text: &str) -> Quantity {
    parse_quantity(text).unwrap_or_else(|_| panic!("{text}"))
}

fn form(item: Keyword, word: &str) -> &'static Form {
    statements_of(item).iter().chain(ITEMS).find(|form| form.word == word).expect("a statement")
}

#[test]
fn what_the_reader_of_texts_says() {
    use syntax::Message as M;
    let close = |word| Some(Close { word, span: here() });
    let (item, shape) = (Keyword::Detail, "sheltered up from 2 m");
    let (piece, waive) = (form(item, "piece"), form(item, "waive"));
    let height = want_of(Keyword::Grade);
    let messages = [
        M::UnknownItem { words: "detial", close: close("detail") },
        M::UnknownItem { words: "wall W1", close: None },
        M::UnknownStatement { words: "peice", item, close: close("piece") },
        M::UnknownStatement { words: "window W1", item, close: None },
        M::WrongItem { word: "layer", home: Keyword::Assembly, item },
        M::NoItemAbove { word: "piece", count: 1, item },
        M::NoItemAbove { word: "layer", count: 3, item: Keyword::Assembly },
        M::DuplicateStatement { word: "grade", item, first: here() },
        M::StrayOpening,
        M::StrayClosing,
        M::NoOpening { item },
        M::NoClosing { last: "statement" },
        M::ClosedEarly { item },
        M::NeedsBlock { word: "detail" },
        M::TakesNoBlock { word: "include" },
        M::Unexpected { words: "on", expected: "`up`", shape, habit: None },
        M::Unexpected { words: "‑25", expected: "", shape, habit: Some(Habit::Minus) },
        M::EndsEarly { last: "from", expected: "a length such as `150 mm`", shape },
        M::EndsEarly { last: "from", expected: "", shape },
        M::NoClosingQuote { shape: "sheet \"3/A-501\"" },
        M::StatementTooLong,
        M::StrayCharacter { name: "form feed", letter: '\u{C}' },
        M::UnknownClause { words: "bond wrap", form: piece, close: close("bonds") },
        M::UnknownClause { words: "\"the wrap\"", form: piece, close: None },
        M::UnknownClause { words: "\"the wrap", form: piece, close: None },
        M::UnknownClause { words: "welded", form: piece, close: None },
        M::UnknownClause { words: "left", form: form(item, "sheet"), close: None },
        M::DuplicateClause { kind: ClauseKind::Title },
        M::DuplicateClause { kind: ClauseKind::Thickness },
        M::DuplicateClause { kind: ClauseKind::Over },
        M::MissingClause { form: waive, kind: ClauseKind::Because },
        M::MissingClause { form: form(item, "seal"), kind: ClauseKind::With },
        M::SinglePlace { words: "up 100 mm", form: piece, kind: ClauseKind::Up },
        M::SinglePlace { words: "up 100 mm", form: form(item, "fasten"), kind: ClauseKind::Up },
        M::NotANumber { words: "high", want: height, habit: None },
        M::NotANumber { words: "1'-6\"", want: height, habit: Some(Habit::FeetAndInches) },
        M::NotANumber { words: "½ in", want: height, habit: Some(Habit::FractionSign) },
        M::NotANumber { words: "1/2 in", want: height, habit: Some(Habit::MixedNumber) },
        M::DecimalComma { words: "1,5 m" },
        M::UnknownUnit { unit: "milimeter", want: height, close: close("mm") },
        M::UnknownUnit { unit: "cubits", want: height, close: None },
        M::WrongDimension { words: "150", dimension: Dimension::Number, want: height },
        M::WrongDimension { words: "150 Pa", dimension: Dimension::Pressure, want: height },
        M::OutOfRange { words: "120 %", range: Some("0 % to 100 %") },
        M::OutOfRange { words: "1e999 m", range: None },
        M::EmptyExtent { low: quantity("150 mm"), high: quantity("0 mm") },
        M::EmptyExtent { low: quantity("150 mm"), high: quantity("150 mm") },
        M::NoHumidityClass,
        M::NotADate { words: "31.3.2027" },
        M::More { count: 1 },
        M::More { count: 12 },
    ];
    let page = page(&messages, include_str!("../../src/syntax/message.rs"), |message| message.at(here()));
    insta::assert_snapshot!(page);
}

const LIBRARY: &str = "material wrap sheet { holds water; thickness 1 mm; permeance 5 perm; source \"x\" }
material cap fastener { source \"x\" }
assembly W1 wall { outside; layer wrap; inside }
assembly W2 wall { }
";

fn library() -> Library {
    let fetch = |_: &str| Err("there is no such file".to_owned());
    SourceMap::new(&fetch, &pack().words).read(Arc::new(Source::new(FileId::detail(0), "a.detail", LIBRARY))).library
}

#[test]
fn what_the_files_can_mean_wrongly() {
    use model::Message as M;
    let library = library();
    let (wrap, cap) = (library.material("wrap").expect("a material"), library.material("cap").expect("a material"));
    let assembly = |name| library.assembly(name).expect("an assembly");
    let name: &Name = &"wrpa".into();
    let names: Vec<Name> = ["gypsum-board", "concrete", "brick-veneer"].map(Name::from).into();
    let (near, far, none) = (&["wrap", "cap"][..], &["sheathing", "studs"][..], &[][..]);
    let unlike: &Name = &"zzzz".into();
    let first = here();
    let messages = [
        M::Undefined { kind: ItemKind::Material, name, known: near },
        M::Undefined { kind: ItemKind::Material, name: unlike, known: far },
        M::Undefined { kind: ItemKind::Climate, name: unlike, known: none },
        M::Undefined { kind: ItemKind::Assembly, name: unlike, known: none },
        M::Undefined { kind: ItemKind::Rule, name: unlike, known: far },
        M::Undefined { kind: ItemKind::DetailKind, name: unlike, known: far },
        M::Undefined { kind: ItemKind::Surface, name: unlike, known: far },
        M::UndefinedPiece { name, known: near },
        M::UndefinedPiece { name: unlike, known: none },
        M::UndefinedPiece { name: unlike, known: far },
        M::UnknownWord { phrase: "kind of fold", word: unlike, known: &["sill", "head"] },
        M::UnknownZone { zone: "9Z" },
        M::LibraryNotIncluded { library: "stock.detail", kind: ItemKind::Material, names: &names[..1] },
        M::LibraryNotIncluded { library: "stock.detail", kind: ItemKind::Material, names: &names },
        M::IdleRole { role: &"widnow".into(), close: "window" },
        M::Duplicate { phrase: "piece", name, first },
        M::DuplicateLayer { name, first },
        M::DuplicateInIncludes { phrase: "material", name, first, second: first },
        M::CircularInclude,
        M::FailedInclude { why: "there is no such file", path: None },
        M::FailedInclude { why: "there is no such file", path: Some("stok.detail") },
        M::WrongKind { material: cap, used: Use::Layer },
        M::WrongKind { material: cap, used: Use::Piece },
        M::WrongKind { material: wrap, used: Use::Frame },
        M::WrongKind { material: wrap, used: Use::Sealant },
        M::WrongKind { material: wrap, used: Use::Fastener },
        M::VaporTwice { first },
        M::DryAndWet,
        M::OtherPressure { pressure: quantity("50 Pa") },
        M::MonthsMissing { climate: name, given: 11, missing: &["dec"] },
        M::MonthsMissing { climate: name, given: 10, missing: &["nov", "dec"] },
        M::TooManyLayers { most: 100 },
        M::NoSpaceBetweenFrames { width: quantity("400 mm"), spacing: quantity("400 mm") },
        M::SideAmongLayers,
        M::NoSide { assembly: name },
        M::JoinedToItself { assembly: name },
        M::NamesItself { piece: "wrap" },
        M::SealedToItself { piece: "wrap" },
        M::TwoPlaces,
        M::CutWithoutExtent,
        M::RowWithoutSize,
        M::TooMany { most: 100, what: "slopes" },
        M::NotJoined { assembly: &"W3".into(), defined: true, joined: &["W1"] },
        M::NotJoined { assembly: &"roof".into(), defined: false, joined: &["W1", "W2"] },
        M::NoSuchLayer { assembly: assembly("W1"), material: cap },
        M::NoSuchLayer { assembly: assembly("W2"), material: wrap },
        M::NeedsWhere { both: false },
        M::NeedsWhere { both: true },
        M::CannotWaive { rule: "syntax" },
        M::NoReason,
    ];
    let page = page(&messages, include_str!("../../src/model/message.rs"), |message| message.at(here()));
    insta::assert_snapshot!(page);
}

#[test]
fn what_settings_can_be_wrong_in() {
    use settings::{Message as M, NoClimate as N};
    let (path, why) = ("walls/rules", "there is no such file");
    let messages = [
        M::NotToml { why: "extra `=`, expected nothing" },
        M::UnknownSetting { name: "unit" },
        M::UnknownSetting { name: "zzzz" },
        M::UnknownOfFolder { name: "pth" },
        M::UnknownLayer { name: "membrane" },
        M::UnknownLayer { name: "zzzz" },
        M::RulesNotAList,
        M::RulesNotPaths,
        M::ClimateNotAName,
        M::UnknownUnits,
        M::UnknownLevel,
        M::VersionNotText,
        M::KnownNotAPath,
        M::NotAnAddress,
        M::LayersNotATable,
        M::LayerName { without: "<>/" },
        M::AdjustmentNotATable { form: "[adjust.RULE]" },
        M::FolderNotATable,
        M::FolderWithoutPath,
        M::PathNotAFolder,
        M::UnreadableVersion { why: "unexpected end of input" },
        M::OtherVersion { wanted: ">=2", own: "0.1.0" },
        M::UnknownEdition { known: &["2026"] },
        M::AssumedInFolder,
        M::TooManyFolders { most: 100 },
        M::FolderOutside,
        M::NoFolder,
        M::Outside { path },
        M::LinkOutside { path },
        M::Unreadable { path, why },
        M::NoRules,
        M::NoClimate { why: &N::Unknown { name: "bostn".into(), near: Some("boston".into()) } },
        M::NoClimate { why: &N::Unreadable { why: why.into() } },
        M::NoClimate { why: &N::NoneInFile },
        M::NoClimate { why: &N::SeveralInFile },
    ];
    let page = page(&messages, include_str!("../../src/settings/message.rs"), |message| message.at(here()));
    insta::assert_snapshot!(page);
}

#[test]
fn what_a_review_says_besides_findings_of_rules() {
    use headlap::facts::face::{Excess, TooLarge};
    use headlap::review;
    let too_large = |what| review::Message::DetailTooLarge { excess: TooLarge { what, limit: 1000 } };
    let messages = [
        too_large(Excess::Pieces),
        too_large(Excess::Cells),
        too_large(Excess::Stacked),
        too_large(Excess::Steps),
        review::Message::Failed,
    ];
    let page = page(&messages, include_str!("../../src/review/message.rs"), |message| message.at(here()));
    insta::assert_snapshot!(page);
}

#[test]
fn what_a_rule_file_can_be_wrong_in_by_itself() {
    use headlap::quantity::NumberError;
    use headlap::rules::WrittenMessage as M;
    let (key, found) = ("about", "integer");
    let messages = [
        M::NotToml { why: "extra `=`, expected nothing" },
        M::NoExpression,
        M::TooDeep,
        M::TooLong,
        M::TooManyParts,
        M::TwoComparisons,
        M::EndsEarly { wants_value: true },
        M::EndsEarly { wants_value: false },
        M::NoSpaceBeforeUnit,
        M::SingleEquals,
        M::Unexpected { word: "]", wants_value: true },
        M::Unexpected { word: "least", wants_value: false },
        M::NoClosingBrace,
        M::NoOpeningBrace,
        M::NoClosingBracket,
        M::no_key_of_rules("need"),
        M::UnknownKey { what: "a table", name: "zzzz", known: &["name", "keys"] },
        M::MissingKey { what: "a kind", key: "title" },
        M::NotAName { name: "2nd" },
        M::AssumedNotATable,
        M::NoKeysOfTable,
        M::NoRows,
        M::NoKnown,
        M::NoSource,
        M::NoExampleText,
        M::CuredWithoutFault,
        M::NotText { key, found },
        M::ExampleNotText,
        M::NotYesNo { key },
        M::NotAList { key },
        M::NotTables { key },
        M::NotATable { key },
        M::RowNotAList,
        M::UnlikeElements,
        M::NotAConstant { found: "datetime" },
        M::Glued { number: "150", unit: "mm" },
        M::NotAQuantity { text: "150 milimeter", error: NumberError::UnknownUnit("mn".to_owned()) },
        M::NotAQuantity { text: "high", error: NumberError::NotANumber },
        M::NotAQuantity { text: "1e999", error: NumberError::OutOfRange },
        M::NotAValue { text: "at least" },
        M::UnknownStatus { word: "memry" },
    ];
    let page = page(&messages, include_str!("../../src/rules/written/message.rs"), |message| message.at(here()));
    insta::assert_snapshot!(page);
}

#[test]
fn what_an_expression_can_be_wrong_in() {
    use headlap::facts::vocabulary::{Family, Kind};
    use headlap::rules::{Comparison, ExprType, ExpressionMessage as M, Operation, Verb, WordsOf};
    let (kind, known) = (Kind::Lap, &["length", "over"][..]);
    let (length, number) = (ExprType::Quantity(Dimension::Length), ExprType::Quantity(Dimension::Number));
    let word = ExprType::Word(WordsOf::Family(Family::Surface));
    let pair = |left, right| [(left, here()), (right, here())];
    let list = &["concrete".to_owned(), "metal".to_owned()];
    let messages = [
        M::UnknownWord { word: "metl", list, constants: &["least"] },
        M::UnknownWord { word: "zzzz", list, constants: &[] },
        M::UnknownName { name: "lenght", kind, known },
        M::UnknownName { name: "zzzz", kind, known },
        M::HiddenMinus { name: "length-least", kind, sides: ("length", "least") },
        M::UnknownField { name: "lenght", kind },
        M::UnknownFunction { name: "cout", known: &["count"] },
        M::UnknownTable { name: "bond", known: &["bonds"] },
        M::NotYesNo { found: length },
        M::NotItems { found: length },
        M::ListAlone,
        M::EmptyList,
        M::UnlikeElement { left: length, element: word },
        M::FieldOfConstant { name: "least" },
        M::FieldOfValue { name: "length", of: length },
        M::WrongArguments { function: "any" },
        M::WrongArguments { function: "count" },
        M::WrongArguments { function: "known" },
        M::WrongArguments { function: "lookup" },
        M::WrongArguments { function: "max" },
        M::TableExpected,
        M::WrongKeys { table: "bonds", keys: &["adhesive", "surface"] },
        M::WrongKey { table: "bonds", column: "adhesive", expected: word, found: word },
        M::WrongKey { table: "bonds", column: "adhesive", expected: word, found: length },
        M::OrderOfOthers { comparison: Comparison::Less },
        M::Mismatch { verb: Verb::Compare, sides: pair(length, number) },
        M::Mismatch { verb: Verb::Compare, sides: pair(word, word) },
        M::Mismatch { verb: Verb::Compare, sides: pair(ExprType::Fact(Kind::Lap), ExprType::Fact(Kind::Piece)) },
        M::Mismatch { verb: Verb::Compare, sides: pair(ExprType::Text, ExprType::YesNo) },
        M::Mismatch { verb: Verb::Among, sides: pair(word, ExprType::FactList(Kind::Lap)) },
        M::Mismatch { verb: Verb::Calculate(Operation::Plus), sides: pair(length, number) },
        M::Mismatch { verb: Verb::Calculate(Operation::Minus), sides: pair(number, length) },
        M::Mismatch { verb: Verb::Calculate(Operation::Times), sides: pair(length, number) },
        M::Mismatch { verb: Verb::Calculate(Operation::Over), sides: pair(length, number) },
        M::Mismatch { verb: Verb::Use, sides: pair(word, length) },
    ];
    let page = page(&messages, include_str!("../../src/rules/expression/message.rs"), |message| message.at(here()));
    insta::assert_snapshot!(page);
}

#[test]
fn what_rules_can_be_wrong_in_and_why_they_are_silent() {
    use headlap::facts::vocabulary::Kind;
    use headlap::rules::{Expected, ExprType, Message as M};
    let (rule, kind, first, name) = ("short-head-lap", Kind::Lap, here(), "least");
    let (length, slope) = (ExprType::Quantity(Dimension::Length), ExprType::Quantity(Dimension::Slope));
    let message = "wrap laps flap by 20 mm";
    let known = &["concrete".to_owned(), "metal".to_owned()];
    let words = &["pan".into(), "flashing".into()];
    let material: &Name = &"wrap".into();
    let messages = [
        M::NotAnId { id: "Short Lap" },
        M::NotALevel { word: "warnin" },
        M::NotAKind { word: "lapp" },
        M::HidesField { name: "length" },
        M::UnusedConstant { name },
        M::UnknownPlace { kind, name: "ovr" },
        M::NoPlace { kind, name: "length" },
        M::WrongCells { expected: 3, found: 2 },
        M::OtherTypeInColumn { expected: length, found: slope },
        M::NotInList { word: "metl", list: "surface", known },
        M::UnknownAssumed { name: "bead-reech", known: &["bead-reach"] },
        M::MissingAssumed { name: "bead-reach" },
        M::WrongAssumed { name: "bead-reach", found: slope, expected: Expected::Quantity(Dimension::Length) },
        M::WrongAssumed { name: "filling-roles", found: slope, expected: Expected::Roles },
        M::NotMonths { name: "wet-before-coldest" },
        M::Negative { name: "bead-reach" },
        M::NotARole { word: "pane", known: words },
        M::Duplicate { what: "rule", name: rule, first, may_replace: false },
        M::Duplicate { what: "rule", name: rule, first, may_replace: true },
        M::AssumedTwice { first },
        M::NothingToReplace { what: "rule", name: "shrt-head-lap", known: &[rule] },
        M::AdjustmentNotATable { rule },
        M::BecauseNotAReason,
        M::OffNotYesNo,
        M::LevelNotALevel,
        M::NoReason { rule },
        M::UnknownRule { name: "shrt-head-lap", known: &[rule] },
        M::AssumedHasNoLevel,
        M::UnknownConstant { rule, name: "leest", known: &[name] },
        M::WrongValue { rule, name, found: slope, expected: length, value: ("50 mm", first) },
        M::WordNotInList { word: "metl", known },
        M::NoExample { rule, that: "passes" },
        M::FindsNothing { rule },
        M::FindsFault { rule, message },
        M::NotCured { rule, message },
        M::CureBringsFinding { rule, message },
        M::UnreadExample { message: "`milimeter` is not a unit" },
        M::IdleException { rule },
        M::UnknownEdit { word: "extnd", known: &["move", "extend"] },
        M::MissingProperty { name: material, word: "material", property: "uv-limit" },
        M::TooManySteps { rule, kind, most: 20_000_000 },
    ];
    let page = page(&messages, include_str!("../../src/rules/message.rs"), |message| message.at(here()));
    insta::assert_snapshot!(page);
}

#[test]
fn what_files_and_lists_can_be_wrong_in() {
    use project::Message as M;
    let entry = &project::KnownEntry {
        file: "a.detail".to_owned(),
        rule: "short-head-lap".to_owned(),
        item: Some("D1".to_owned()),
        about: Vec::new(),
        message: "wrap laps flap by 20 mm".to_owned(),
        because: None,
        by: None,
        fingerprint: None,
        at: here(),
    };
    let (list, why) = ("known.jsonl", "there is no such file");
    let messages = [
        M::Unreadable { why: &project::Unread::Utf16 },
        M::Unreadable { why: &project::Unread::Missing },
        M::UnreadableList { list, why },
        M::NotAList { list, why: "missing field `rule`" },
        M::RefusedEntry { entry: &project::KnownEntry { rule: "syntax".to_owned(), ..entry.clone() } },
        M::EntryGone { entry },
    ];
    let page = page(&messages, include_str!("../../src/project/message.rs"), |message| message.at(here()));
    insta::assert_snapshot!(page);
}

#[test]
fn why_files_and_folders_are_not_read() {
    use project::Unread as U;
    let why = || "Input/output error (os error 5)".to_owned();
    let reasons = [
        U::Missing,
        U::Forbidden,
        U::Folder,
        U::NotRegular,
        U::TooLarge { megabytes: 16 },
        U::Utf16,
        U::NotUtf8,
        U::System { why: why() },
        U::OutsideLibrary { root: "library".to_owned() },
        U::NeverSaved,
        U::LinkOutside,
        U::StrangeIgnores,
        U::ForbiddenFolder,
        U::Vanished,
        U::NotListed { why: why() },
        U::Hidden { files: 1 },
        U::NothingThere,
        U::NoRuleFile,
    ];
    let words = |reason: &U| match reason.fix() {
        Some(fix) => format!("{}\n  > {fix}", reason.words()),
        None => reason.words(),
    };
    let file = include_str!("../../src/project/unread.rs");
    insta::assert_snapshot!(lines(&reasons, variants_of("Unread", file), words));
}

#[test]
fn why_a_command_line_is_refused() {
    use headlap::cli::Message as M;
    let (typed, path) = ("x", Path::new("walls"));
    let why = "there is no such file";
    let messages = [
        M::PathsBesidePipe,
        M::StdinNameWithoutPipe,
        M::FixOfPipe,
        M::WriteKnownOfPart,
        M::MoreOutsThanFormats,
        M::FormatsShareOutput,
        M::SeveralLibraries { instead: "name files of one library" },
        M::NoKnownList,
        M::NotALength { typed },
        M::NotADay { typed },
        M::NotATime { typed },
        M::NotAName { near: "boston-2" },
        M::NoRule { id: "shrt-head-lap", near: Some("short-head-lap") },
        M::NoRule { id: "zzzz", near: None },
        M::NoSuch { what: "rule", word: "shrt-head-lap", near: Some("short-head-lap"), all: "" },
        M::NoSuch { what: "rule", word: "zzzz", near: None, all: "`headlap rules list` lists them all" },
        M::NoneInRun { what: "sheet", name: "A-501", near: Some("A-502") },
        M::NoneToShow { name: "D2", near: Some("D1") },
        M::NoSchema { of: "walls" },
        M::NoPath { path },
        M::NoDetail { paths: &["walls".to_owned()], done: "checked", left_out: 0 },
        M::NoDetail { paths: &["walls".to_owned()], done: "checked", left_out: 2 },
        M::NothingChecked,
        M::Unreadable { path, why },
        M::UnreadableInput { why },
        M::UnreadableList { list: path, why },
        M::SkippedDeleted { count: 2, first: path },
        M::NoFileToCheck,
        M::ErrorsPass { settings: "headlap.toml" },
        M::WaitingForChanges,
        M::NotCached { why: "no space left" },
        M::TooManyEdges { detail: "D1" },
        M::AssemblyAsDxf { assembly: "W1" },
        M::WaiverEnds { rule: "short-head-lap", days: 20 },
        M::WaiverEnds { rule: "short-head-lap", days: -1 },
        M::Wrote { path },
        M::CheckWith { folder: "walls" },
        M::Listed { count: 3, list: path },
        M::Pruned { count: 2, list: path },
        M::Entries { count: 5, list: path },
        M::ListWritten { count: 5, list: path },
        M::RulesTested { rules: 400, examples: 2000, cures: 400, failed: 1 },
        M::CorrectFirst,
        M::NotFormatted { name: "walls.detail" },
        M::NotListed,
        M::NotPruned,
        M::Incomplete,
        M::NoOutput { why: "no space left" },
        M::NoThreads { why: "out of memory" },
        M::NoBuiltInRules,
        M::Crashed,
    ];
    insta::assert_snapshot!(lines(&messages, variants(include_str!("../../src/cli/message.rs")), M::words));
}

#[test]
fn why_files_are_not_written_and_git_does_not_answer() {
    use project::{Refusal as R, Unfit as U};
    let (path, why) = (Path::new("out/report.json"), "No space left on device");
    let refusals = [
        R::NotWritten { path, why },
        R::NotCreated { path, why },
        R::NotRemoved { path, why },
        R::NotListed { path, why },
        R::NotEmpty { path },
        R::NoWorkingFolder { why },
        R::OutIsDash,
        R::OutIsRead { path },
        R::OutTwice { path },
        R::ListTooLarge { path, megabytes: 64 },
        R::ListNotRegular { path },
        R::ListOfOthers { list: "known.jsonl", file: "walls/a.detail" },
        R::NotARevision { typed: "-x" },
        R::NoGit { why: "No such file or directory" },
        R::GitRefused { why: "fatal: bad revision 'x'" },
    ];
    let file = include_str!("../../src/project/refusal.rs");
    let mut page = lines(&refusals, variants_of("Refusal", file), R::words);
    let unfit = [U::Link, U::Folder, U::Special, U::ReadOnly, U::Changed, U::Made];
    page += &lines(&unfit, variants_of("Unfit", file), |unfit| unfit.words().to_owned());
    let notices = [
        project::Notice::SettingsUnreadable { name: "submittal/headlap.toml" },
        project::Notice::LaterThanEdition { edition: "2026" },
    ];
    let file = include_str!("../../src/project/notice.rs");
    page += &lines(&notices, variants_of("Notice", file), project::Notice::words);
    insta::assert_snapshot!(page);
}

/// The messages as a page; holds that each of the list is among them.
fn lines<M: Debug>(messages: &[M], all: BTreeSet<&str>, words: impl Fn(&M) -> String) -> String {
    let shown: BTreeSet<String> = messages.iter().map(name_of).collect();
    assert_eq!(shown, all.into_iter().map(str::to_owned).collect(), "messages shown here, and messages of the file");
    messages.iter().map(|message| format!("{}\n  {}\n", name_of(message), words(message))).collect()
}

#[test]
fn what_cures_say_that_they_do() {
    use headlap::mend::{Bound, InstallationOrder as Order, Title as T};
    use headlap::syntax::Hold;
    let (piece, other, to) = ("wrap", "pan", quantity("150 mm"));
    let flashing = |place| T::DrawFlashing { role: "head-flashing", edge: "top", piece: "window", place };
    let (layer, assembly, after) = ("membrane", "W1", "sheathing");
    let titles = [
        T::AddText { new: "mm" },
        T::RemoveText { old: "mm" },
        T::ReplaceText { old: "plywod", new: "plywood" },
        T::AddWords { words: "rolled", piece },
        T::RemoveWords { words: "over pan", piece },
        T::RemovePiece { piece },
        T::RemoveStatement { text: "seal wrap to pan with sealant" },
        T::ChangeStatement { text: "every 300 mm", to: "every 150 mm" },
        T::Install { piece, word: "before", other },
        T::InstallBonded { strip: "strip", before: piece, backing: "sheathing" },
        T::Tuck { piece, behind: other },
        T::Fold { piece, over: other },
        T::Extend { edge: "foot", piece, to },
        T::CutBack { edge: "top", piece, to },
        T::ExtendPast { piece, other, left: quantity("-50 mm"), right: quantity("950 mm") },
        T::RaiseFoot { piece, to },
        T::RunThrough { piece },
        T::Slope { piece, slope: quantity("5%") },
        T::Space { every: to },
        T::MoveFasteners { piece, bound: Bound::Low, at: to },
        T::MoveFasteners { piece, bound: Bound::High, at: to },
        T::Bond { piece, onto: other, hold: Hold::Adhesive },
        T::Bond { piece, onto: other, hold: Hold::Weld },
        T::Bond { piece, onto: other, hold: Hold::Clamp },
        T::Weld { piece },
        T::Seal { one: piece, other, sealant: "silicone" },
        T::SealAtBack { unit: "window", pan: other, sealant: None },
        T::SealAtBack { unit: "window", pan: other, sealant: Some("silicone") },
        T::SealWholeContact,
        T::Tape { one: piece, other, tape: "flashing-tape", primed: false },
        T::Tape { one: piece, other, tape: "flashing-tape", primed: true },
        T::BeadAgainst { rod: "backer-rod" },
        T::BeadDepth { depth: quantity("6 mm") },
        T::BeadDepthAgainst { rod: "backer-rod", depth: quantity("6 mm") },
        T::AddWeeps { every: quantity("600 mm") },
        T::LowerWeeps { to },
        T::AddEndDams { pan: other },
        T::AddOtherEndDam { pan: other },
        flashing(Order::Next),
        flashing(Order::After(piece)),
        flashing(Order::Before(piece)),
        T::DrawCounterflashing { wall: "brick", over: "apron" },
        T::LetIn { piece: "counterflashing", wall: "brick" },
        T::Substitute { new: "flashing-tape", old: "house-tape" },
        T::AddInboard { layer: "vapor-retarder", of: "wool" },
        T::Widen { gap: "air-gap", to: quantity("25 mm") },
        T::AssignControls { layer, controls: "water, air" },
        T::RemoveControl { layer, control: "vapor" },
        T::AssignPiece { piece, assembly },
        T::DrawLayer { layer, assembly, after },
        T::DrawSealedLayer { layer, assembly, after },
        T::Waive,
        T::Both { first: "Tuck wrap behind pan", second: "Add `rolled` to strip" },
    ];
    let all = variants_of("Title", include_str!("../../src/mend/title.rs"));
    insta::assert_snapshot!(lines(&titles, all, T::words));
}

#[test]
fn what_is_wrong_with_an_installation_sequence() {
    use headlap::output::sequence::{Problem as P, SequenceChange as Change};
    let (over, under) = ("wrap", "cap");
    let problems = [
        P::Impossible { piece: "wrap", other: "cap" },
        P::ImpossibleUnit { piece: "wrap", other: "window" },
        P::BehindFixed { piece: "cap", behind: "wrap" },
        P::ReverseLap { over, under, cure: Some(Change::Install { piece: over, before: under }) },
        P::ReverseLap { over, under, cure: Some(Change::Lay { piece: under, over }) },
        P::ReverseLap { over, under, cure: None },
    ];
    let file = include_str!("../../src/output/sequence/problem.rs");
    insta::assert_snapshot!(lines(&problems, variants_of("Problem", file), P::words));
}

#[test]
fn why_an_editor_is_refused() {
    use headlap::server::Message as M;
    let (new, name) = ("2nd wrap", "wrap");
    let messages = [
        M::UnknownRequest { method: "headlap/walls" },
        M::Failed,
        M::SessionOver,
        M::Canceled,
        M::TooManyEdges { detail: "D1" },
        M::NotFormatted,
        M::Unchecked,
        M::NotAName { new },
        M::NameTaken { new },
        M::NameOfFile { name: "walls.detail" },
        M::WordOfLanguage { name },
        M::DefinedElsewhere { name },
    ];
    let file = include_str!("../../src/server/message.rs");
    insta::assert_snapshot!(lines(&messages, variants(file), |message| message.words()));
}
