//! What an editor asks for besides findings.

use serde_json::{Value, json};

use super::{Client, RIGHT, library, wrong};
use crate::command::write;

fn labels(answer: &Value) -> Vec<String> {
    let items = answer.as_array().expect("a list").iter();
    items.map(|item| item["label"].as_str().expect("a label").to_owned()).collect()
}

/// The texts of the ranges that an answer gives, out of one file.
fn words(text: &str, ranges: impl Iterator<Item = Value>) -> Vec<String> {
    let column = |line: &str, units: u64| {
        let mut left = units as usize;
        let end = line.char_indices().find(|(_, c)| {
            let done = left == 0;
            left = left.saturating_sub(c.len_utf16());
            done
        });
        end.map_or(line.len(), |(at, _)| at)
    };
    ranges
        .map(|range| {
            let line =
                text.lines().nth(range["start"]["line"].as_u64().expect("a line") as usize).expect("it is there");
            let [start, end] =
                ["start", "end"].map(|end| column(line, range[end]["character"].as_u64().expect("a column")));
            line[start..end].to_owned()
        })
        .collect()
}

#[test]
fn words_are_explained_defined_and_renamed() {
    let folder = library("server/names");
    write(&folder, "other.detail", &RIGHT.replace("detail A", "detail B"));
    let user = "include \"a.detail\"\ndetail C course joins W { piece deck plywood of W }\n";
    write(&folder, "user.detail", user);
    let mut client = Client::new(&folder, &["utf-16"]);
    client.open("a.detail", RIGHT);
    let mut hover = |place: (usize, usize)| {
        let answer = client.at("textDocument/hover", "a.detail", place, json!({})).expect("an answer");
        answer["contents"]["value"].as_str().unwrap_or("").to_owned()
    };
    let piece = hover((5, 10));
    for said in [
        "Step 3 of 3",
        "Height: from 0 mm up",
        "Inboard of it: `deck`, `lower`",
        "upper laps lower by 150 mm, head lap, sheds water",
    ] {
        assert!(piece.contains(said), "{said}: {piece}");
    }
    assert!(piece.contains("short-head-lap"), "the limits that apply: {piece}");
    assert!(hover((5, 17)).contains("**material** `wrap-open`: sheet"));
    assert!(hover((3, 29)).contains("assembly W  wall") && hover((3, 29)).contains("layer, outside first"));
    let detail = hover((2, 7));
    for said in ["**detail** `A`: course", "Joins: `W`", "Height: 0 mm to 150 mm", "Found: nothing", "Water: "] {
        assert!(detail.contains(said), "{said}: {detail}");
    }
    assert!(detail.lines().count() < 12, "{detail}");
    assert!(hover((2, 10)).contains("Kind of detail: "));
    assert!(hover((6, 5)).contains("fasten PIECE with FASTENER every 400 mm"));
    assert!(hover((6, 34)).contains("every 400 mm"));
    assert!(hover((6, 40)).contains(" mm` is "), "{}", hover((6, 40)));
    assert_eq!(hover((5, 50)), "", "a comment");

    let defined = client.at("textDocument/definition", "a.detail", (3, 29), json!({})).expect("an answer");
    assert_eq!(defined[0]["range"]["start"], json!({ "line": 1, "character": 9 }));
    let with = json!({ "context": { "includeDeclaration": true } });
    let places = client.at("textDocument/references", "a.detail", (3, 29), with.clone()).expect("an answer");
    let files: Vec<&str> =
        places.as_array().expect("a list").iter().filter_map(|p| p["uri"].as_str()?.rsplit('/').next()).collect();
    assert_eq!(files.iter().filter(|f| **f == "a.detail").count(), 5);
    assert_eq!(files.iter().filter(|f| **f == "user.detail").count(), 2, "files that include it");
    assert!(!files.contains(&"other.detail"), "a W of its own: {files:?}");
    let places = client.at("textDocument/references", "a.detail", (6, 10), with).expect("an answer");
    let ranges = places.as_array().expect("a list").iter().map(|place| place["range"].clone());
    assert_eq!(words(RIGHT, ranges), ["upper", "upper"]);

    let renamed =
        client.at("textDocument/rename", "a.detail", (3, 29), json!({ "newName": "Wand" })).expect("an answer");
    let changes = renamed["changes"].as_object().expect("changes");
    assert_eq!(changes.len(), 2);
    let edits = changes[&client.uri("a.detail")].as_array().expect("edits");
    assert!(edits.iter().all(|edit| edit["newText"] == "Wand"));
    assert_eq!(words(RIGHT, edits.iter().map(|e| e["range"].clone())), ["W"; 5], "behind a letter of two units");
    for (place, new) in [((3, 29), "no name"), ((6, 10), "deck"), ((5, 17), "x"), ((2, 10), "x")] {
        let refused = client.at("textDocument/rename", "a.detail", place, json!({ "newName": new }));
        assert!(refused.is_err(), "{place:?} to {new}: {refused:?}");
    }
    assert_eq!(client.close(), Some(0));
}

#[test]
fn the_next_word_is_offered_by_what_stands_before_it() {
    let folder = library("server/completion");
    let mut client = Client::new(&folder, &["utf-8"]);
    client.open("a.detail", RIGHT);
    let mut offered = |line: &str| {
        let text = RIGHT.replace("  fasten upper with cap-staple every 400 mm up from 160 mm", line);
        client.replace("a.detail", &text);
        labels(&client.at("textDocument/completion", "a.detail", (6, line.len()), json!({})).expect("an answer"))
    };
    let cases: [(&str, &[&str], &[&str]); 19] = [
        ("  pie", &["piece", "seal", "waive"], &["layer", "material"]),
        ("  piece x ", &["wrap-open", "plywood"], &["W", "upper"]),
        ("  piece x plywood ", &["of", "up", "bonds", "rolled"], &["wrap-open"]),
        ("  piece x plywood of ", &["W"], &["upper", "plywood"]),
        ("  piece x plywood as ", &["pan", "head-flashing"], &["W"]),
        ("  piece x acrylic-tape bonds upper, ", &["deck", "lower", "upper"], &["W", "of"]),
        ("  piece x plywood up 100 ", &["mm", "in", "to"], &["perm", "days"]),
        ("  exposed 60 ", &["days"], &["mm"]),
        ("  fasten upper with ", &["cap-staple"], &["plywood"]),
        ("  seal upper to lower with ", &["acrylic-sealant"], &["cap-staple"]),
        ("  waive ", &["reverse-lap"], &["piece"]),
        ("  fold up 0 mm ", &["sill", "inside-corner"], &["mm"]),
        ("  piece x plywood up 0 mm to 100 mm ", &["along", "of"], &["up"]),
        ("  piece x plywood bonds deck, lower ", &["welded", "clamped", "up"], &[]),
        ("  piece x plywood bonds deck, lower welded ", &["up"], &["clamped"]),
        ("  piece x plywood slope ", &["level"], &["plumb"]),
        ("  fold ", &["up", "along"], &["sill"]),
        ("  grade ", &["up"], &["along"]),
        ("  sheltered up ", &["from", "to"], &["up"]),
    ];
    for (line, wanted, unwanted) in cases {
        let found = offered(line);
        assert!(wanted.iter().all(|word| found.iter().any(|f| f == word)), "`{line}`: {found:?}");
        assert!(unwanted.iter().all(|word| found.iter().all(|f| f != word)), "`{line}`: {found:?}");
    }
    client.replace("a.detail", "include \"st");
    let found = labels(&client.at("textDocument/completion", "a.detail", (0, 11), json!({})).expect("an answer"));
    assert!(found.iter().any(|name| name == "stock.detail"), "{found:?}");
    client.replace("a.detail", "assembly W wall { outside; layer plywood 12 mm controls  }");
    let found = labels(&client.at("textDocument/completion", "a.detail", (0, 56), json!({})).expect("an answer"));
    assert_eq!(found, ["air", "thermal", "vapor", "water"]);
    let items: [(&str, &[&str]); 6] = [
        ("assembly W wall { layer mineral-wool 140 mm between spruce 38 mm ", &["at"]),
        ("material m sheet { mu 16 ", &["dry", "wet"]),
        ("climate c { outdoor ", &["jan", "dec"]),
        ("climate c { outdoor jan -5 ", &["C"]),
        ("climate c { outdoor jan -5 C 80 ", &["%"]),
        ("climate c { indoor ", &["class"]),
    ];
    for (text, wanted) in items {
        client.replace("a.detail", text);
        let place = (0, text.len());
        let found = labels(&client.at("textDocument/completion", "a.detail", place, json!({})).expect("an answer"));
        assert!(wanted.iter().all(|word| found.iter().any(|f| f == word)), "`{text}`: {found:?}");
    }
    assert_eq!(client.close(), Some(0));
}

/// What is offered takes the place of the word that was begun, whatever an editor takes for a word.
#[test]
fn the_next_word_takes_the_place_of_what_was_typed() {
    let folder = library("server/completion-edit");
    let mut client = Client::new(&folder, &["utf-16"]);
    client.open("a.detail", RIGHT);
    let mut replaced = |text: &str, label: &str| {
        client.replace("a.detail", text);
        let place = (0, text.encode_utf16().count());
        let answer = client.at("textDocument/completion", "a.detail", place, json!({})).expect("an answer");
        let items = answer.as_array().expect("a list");
        let item = items.iter().find(|item| item["label"] == label).unwrap_or_else(|| panic!("`{text}`: {answer}"));
        assert_eq!(item["textEdit"]["newText"], label);
        words(text, std::iter::once(item["textEdit"]["range"].clone())).remove(0)
    };
    let cases = [
        ("detail d course { piece süd wrap-o", "wrap-open", "wrap-o"),
        ("detail d course { piece süd ", "wrap-open", ""),
        ("detail d course {pie", "piece", "pie"),
        ("detail d course { piece a plywood up 0 mm;s", "seal", "s"),
        ("detail d course { piece a-b plywood; piece c plywood bonds a-", "a-b", "a-"),
        ("include \"st", "stock.detail", "st"),
    ];
    for (text, label, typed) in cases {
        assert_eq!(replaced(&format!("{STOCK}{text}"), label), typed, "`{text}`");
    }
    assert_eq!(client.close(), Some(0));
}

/// In one line with what follows.
const STOCK: &str = "include \"stock.detail\"; ";

#[test]
fn a_text_is_outlined_folded_colored_and_formatted() {
    let folder = library("server/outline");
    let mut client = Client::new(&folder, &["utf-16"]);
    client.open("a.detail", &format!("# one\n# two\n{RIGHT}"));
    let symbols = client.about("textDocument/documentSymbol", "a.detail");
    let names: Vec<&str> = symbols.as_array().expect("a list").iter().filter_map(|s| s["name"].as_str()).collect();
    assert_eq!(names, ["stock.detail", "W", "A"]);
    let pieces: Vec<&str> =
        symbols[2]["children"].as_array().expect("pieces").iter().filter_map(|s| s["name"].as_str()).collect();
    assert_eq!(pieces, ["deck", "lower", "upper", "upper"]);
    let folds = client.about("textDocument/foldingRange", "a.detail");
    let folds: Vec<(u64, u64)> = folds
        .as_array()
        .expect("a list")
        .iter()
        .map(|f| (f["startLine"].as_u64().expect("a line"), f["endLine"].as_u64().expect("a line")))
        .collect();
    assert_eq!(folds, [(0, 1), (4, 8)]);
    let found = client.ask("workspace/symbol", json!({ "query": "fuß" }));
    assert_eq!(found[0]["name"], "A", "{found}");

    let legend = client.greeting["capabilities"]["semanticTokensProvider"]["legend"]["tokenTypes"].clone();
    let data = client.about("textDocument/semanticTokens/full", "a.detail")["data"].clone();
    let numbers: Vec<u64> = data.as_array().expect("numbers").iter().map(|n| n.as_u64().expect("a number")).collect();
    let text = format!("# one\n# two\n{RIGHT}");
    let (mut line, mut column, mut reported) = (0, 0, Vec::new());
    for token in numbers.chunks(5) {
        column = if token[0] == 0 { column + token[1] } else { token[1] };
        line += token[0];
        let place = |c: u64| json!({ "line": line, "character": c });
        let range = json!({ "start": place(column), "end": place(column + token[2]) });
        reported.push((
            words(&text, [range].into_iter()).remove(0),
            legend[token[3] as usize].as_str().expect("a type").to_owned(),
        ));
    }
    let is = |word: &str, kind: &str| reported.iter().any(|(w, k)| w == word && k == kind);
    for (word, kind) in [
        ("# oben", "comment"),
        ("\"Fuß 𝄞\"", "string"),
        ("piece", "keyword"),
        ("wrap-open", "type"),
        ("W", "class"),
        ("upper", "variable"),
        ("course", "enumMember"),
        ("150", "number"),
        ("from", "operator"),
    ] {
        assert!(is(word, kind), "{word} {kind}: {reported:?}");
    }

    let options = json!({ "tabSize": 2, "insertSpaces": true });
    let uri = client.uri("a.detail");
    let format = |client: &mut Client| {
        client.try_ask("textDocument/formatting", json!({ "textDocument": { "uri": uri }, "options": options }))
    };
    client.replace(
        "a.detail",
        &RIGHT
            .replace("  piece lower  wrap-open of W  up", "piece lower wrap-open up")
            .replace("to 150 mm", "to 150 mm of W"),
    );
    let edits = format(&mut client).expect("an answer");
    assert_eq!(edits.as_array().map(Vec::len), Some(1), "{edits}");
    assert!(
        edits[0]["newText"].as_str().expect("text").contains("  piece lower  wrap-open  of W  up to 150 mm\n"),
        "{edits}"
    );
    client.replace("a.detail", "detail A {\n nonsense\n");
    assert!(format(&mut client).is_err(), "what cannot be read is not moved");
    assert_eq!(client.close(), Some(0));
}

#[test]
fn laps_and_drawings_are_shown_beside_the_text() {
    let folder = library("server/shown");
    let mut client = Client::new(&folder, &["utf-16"]);
    client.open("a.detail", RIGHT);
    let all = json!({ "start": { "line": 0, "character": 0 }, "end": { "line": 99, "character": 0 } });
    let uri = client.uri("a.detail");
    let asked = json!({ "textDocument": { "uri": uri }, "range": all });
    let hints = client.ask("textDocument/inlayHint", asked.clone());
    assert_eq!(labels(&hints), ["laps lower 150 mm"]);
    assert_eq!(hints[0]["position"], json!({ "line": 5, "character": 43 }), "at the end of the statement");
    client.tell("workspace/didChangeConfiguration", json!({ "settings": { "headlap": { "hints": false } } }));
    assert_eq!(client.ask("textDocument/inlayHint", asked), json!([]));
    let drawn = client.at("headlap/drawing", "a.detail", (4, 0), json!({})).expect("an answer");
    assert_eq!(drawn["detail"], "A");
    for view in ["section", "elevation"] {
        let svg = drawn[view].as_str().expect("a drawing");
        assert!(svg.starts_with("<svg") && svg.trim_end().ends_with("</svg>"), "{view}");
    }
    assert_eq!(drawn["pieces"][1]["name"], "lower");
    assert_eq!(drawn["pieces"][1]["range"]["start"]["line"], 4);
    let section = drawn["section"].as_str().expect("a drawing");
    let numbers = section.split("<g class=\"piece\" data-n=\"").skip(1).filter_map(|rest| rest.split('"').next());
    let lines: std::collections::BTreeSet<u64> = numbers
        .map(|n| drawn["statements"][n.parse::<usize>().expect("a number")]["start"]["line"].as_u64().expect("a line"))
        .collect();
    assert_eq!(lines.into_iter().collect::<Vec<_>>(), [3, 4, 5], "each piece of the drawing has its statement");
    client.replace("a.detail", &wrong());
    let drawn = client.at("headlap/drawing", "a.detail", (4, 0), json!({})).expect("an answer");
    assert_eq!(drawn["pieces"][1]["name"], "upper", "as the text is now");
    client.replace("a.detail", "");
    assert_eq!(client.at("headlap/drawing", "a.detail", (4, 0), json!({})), Ok(Value::Null));
    assert_eq!(client.close(), Some(0));
}

/// A proved cure is offered, taken, and the finding is gone.
#[test]
fn cures_are_offered_under_the_words_at_fault() {
    let folder = library("server/cures");
    let mut client = Client::new(&folder, &["utf-16"]);
    client.open("a.detail", &wrong());
    let uri = client.uri("a.detail");
    let finding = client.diagnostics("a.detail").into_iter().find(|d| d["code"] == "reverse-lap").expect("it is found");
    let asked =
        |range: &Value| json!({ "textDocument": { "uri": uri }, "range": range, "context": { "diagnostics": [] } });
    let offered = client.ask("textDocument/codeAction", asked(&finding["range"]));
    let titles: Vec<&str> = offered.as_array().expect("a list").iter().filter_map(|a| a["title"].as_str()).collect();
    assert!(titles.iter().any(|title| title.starts_with("Install ")), "{titles:?}");
    assert_eq!(titles.last(), Some(&"Waive it, and state the reason"));
    let first = &offered[0];
    assert_eq!((&first["kind"], &first["isPreferred"]), (&json!("quickfix"), &json!(true)));
    assert_eq!(first["diagnostics"][0]["code"], "reverse-lap");
    // All edits of one action are counted in the text as it is, so that the last one is made first.
    let mut edits = first["edit"]["changes"][&uri].as_array().expect("edits").clone();
    edits.sort_by_key(|edit| std::cmp::Reverse(edit["range"]["start"]["line"].as_u64()));
    let changes: Vec<Value> = edits.iter().map(|e| json!({ "range": e["range"], "text": e["newText"] })).collect();
    client.change("a.detail", json!(changes));
    assert_eq!(client.findings("a.detail"), []);
    let start = json!({ "line": 0, "character": 0 });
    assert_eq!(client.ask("textDocument/codeAction", asked(&json!({ "start": start, "end": start }))), json!([]));
    assert_eq!(client.close(), Some(0));
}
