//! JSON schemas of rule files and of `headlap.toml`, for editors that check and complete TOML while it is typed.
//!
//! The program itself does not read them: it knows more than a schema can say, such as which fields an expression may ask.

use serde_json::{Map, Value, json};

use crate::facts::vocabulary::Kind;
use crate::finding::{Known, Level};
use crate::output::drawing::LAYERS;
use crate::rules::{ASSUMED, Constant, Literal, Pack, editions};

const DIALECT: &str = "http://json-schema.org/draft-07/schema#";

/// What a rule file may hold: rules, tables, kinds of detail, words.
pub fn rule_schema() -> Value {
    let basis = json!({
        "type": "object",
        "description": "Where the rule's opinion comes from.",
        "properties": {
            "source": text("The standard, code or publication."),
            "clause": text("Its clause or table."),
            "says": text("What it says, in your own words."),
            "known": { "enum": Known::ALL.map(Known::word), "description": "How well it is known: read in its text, from memory, or practice of the trade without a source." },
        },
        "required": ["known"],
        "additionalProperties": false,
    });
    let constant = json!({
        "description": "A named constant of the expressions: a quantity in quotes, a word, a number, true, false, or a list.",
        "anyOf": [scalar(), { "type": "array", "items": scalar() }],
    });
    let rule = json!({
        "type": "object",
        "properties": {
            "id": { "type": "string", "pattern": "^[a-z][a-z0-9-]*$", "description": "What findings and waivers call the rule." },
            "title": text("In the trade's words, for people."),
            "level": { "enum": Level::ALL.map(Level::word) },
            "about": { "enum": Kind::ALL.map(Kind::word), "description": "The kind of thing it looks at: one finding for each that fails." },
            "when": text("Which of them it looks at; all when left out."),
            "needs": text("What has to be so."),
            "says": text("The finding's sentence, with {expressions}."),
            "fix": text("What to do, with {expressions}."),
            "at": text("Whose words carry the finding: a thing, a part of one, or nothing for the fact itself."),
            "per": text("Findings with the same value of this become one."),
            "replaces": { "type": "boolean", "description": "It takes the place of the built-in rule of that id." },
            "basis": { "type": "array", "items": basis },
            "example": { "type": "array", "items": {
                "type": "object",
                "properties": {
                    "fails": text("Details that the rule finds fault with."),
                    "cured": text("The same details after somebody did what `fix` says: the finding is gone and no other has come."),
                    "passes": text("Details that the rule lets pass."),
                },
                "additionalProperties": false,
                "oneOf": [{ "required": ["fails"] }, { "required": ["passes"] }],
                "dependencies": { "cured": ["fails"] },
            } },
        },
        "required": ["id", "title", "level", "about", "needs", "says"],
        "additionalProperties": constant,
    });
    let table = json!({
        "type": "object",
        "description": "A table that expressions look into: a value for each case of its keys.",
        "properties": {
            "name": { "type": "string" },
            "title": { "type": "string" },
            "keys": { "type": "array", "items": { "type": "string" }, "minItems": 1 },
            "rows": { "type": "array", "items": { "type": "array" } },
            "basis": { "type": "array", "items": rule["properties"]["basis"]["items"].clone() },
            "replaces": { "type": "boolean" },
        },
        "required": ["name", "keys", "rows"],
        "additionalProperties": false,
    });
    let kind = json!({
        "type": "object",
        "description": "A kind of detail.",
        "properties": {
            "name": { "type": "string" },
            "title": { "type": "string" },
            "weather": { "type": "boolean", "description": "Rain reaches it." },
        },
        "required": ["name", "title"],
        "additionalProperties": false,
    });
    let list = json!({ "type": "array", "items": { "type": "string" } });
    let words = json!({
        "type": "object",
        "properties": { "surface": list.clone(), "substance": list.clone(), "adhesive": list.clone(), "role": list },
        "additionalProperties": false,
    });
    json!({
        "$schema": DIALECT,
        "title": "headlap rule file",
        "type": "object",
        "properties": {
            "rule": { "type": "array", "items": rule },
            "table": { "type": "array", "items": table },
            "kind": { "type": "array", "items": kind },
            "words": { "anyOf": [words.clone(), { "type": "array", "items": words }] },
            ASSUMED: { "type": "object", "description": "What facts take for granted before any rule is asked." },
        },
        "additionalProperties": false,
    })
}

/// What `headlap.toml` may hold. The rules of the pack have their own constants; those of a firm are open.
pub fn settings_schema(pack: &Pack) -> Value {
    let adjustments: Map<String, Value> =
        pack.rules.iter().map(|rule| (rule.id.to_string(), adjustment(Some((&rule.title, &rule.constants))))).collect();
    let adjust = json!({
        "type": "object",
        "description": "What the project changes about rules, each with its reason.",
        "properties": adjustments,
        "additionalProperties": adjustment(None),
    });
    let mut everywhere = adjust.clone();
    let mut assumed =
        adjustment(Some(("What facts take for granted before any rule is asked", &pack.assumed_table.constants)));
    for key in ["level", "off"] {
        assumed["properties"].as_object_mut().and_then(|known| known.remove(key));
    }
    everywhere["properties"][ASSUMED] = assumed;
    let layers: Map<String, Value> = LAYERS
        .iter()
        .map(|(_, name, ..)| ((*name).to_owned(), json!({ "type": "string", "minLength": 1, "maxLength": 255 })))
        .collect();
    json!({
        "$schema": DIALECT,
        "title": "headlap.toml",
        "type": "object",
        "properties": {
            "required-version": text("The versions of headlap that this library is made for, such as >=0.1, <0.3."),
            "rules-edition": {
                "enum": editions().collect::<Vec<_>>(),
                "description": "The edition of the stock rules that the library is held against; rules that came later are off.",
            },
            "rules": { "type": "array", "items": { "type": "string" }, "description": "Files and folders of the firm's own rules." },
            "climate": text("The climate of walls, roofs and floors that name none: a built-in one, or the path of a file with one."),
            "units": { "enum": ["metric", "us"], "description": "The units that findings tell numbers in; lengths stay in their author's." },
            "fail-on": { "enum": ["error", "warning", "note", "never"], "description": "The least level that makes a review fail." },
            "known": text("The list of findings that were there when headlap was taken up."),
            "docs-url": text("Where the pages on the rules are published; findings in a terminal and in SARIF link to them."),
            "layers": {
                "type": "object",
                "description": "What drawings call their layers.",
                "properties": layers,
                "additionalProperties": false,
            },
            "adjust": everywhere,
            "folder": { "type": "array", "items": {
                "type": "object",
                "description": "What holds for the details below one folder alone.",
                "properties": { "path": text("The folder, from that of headlap.toml."), "adjust": adjust },
                "required": ["path"],
                "additionalProperties": false,
            } },
        },
        "additionalProperties": false,
    })
}

fn adjustment(of: Option<(&str, &[Constant])>) -> Value {
    let mut properties = json!({
        "because": { "type": "string", "minLength": 1, "description": "The reason; it stands with every finding of the rule." },
        "level": { "enum": Level::ALL.map(Level::word) },
        "off": { "type": "boolean" },
    });
    for constant in of.iter().flat_map(|(_, constants)| *constants) {
        let mut schema = match &constant.value {
            Literal::YesNo(_) => json!({ "type": "boolean" }),
            Literal::Quantity(_) => json!({ "type": ["string", "number"] }),
            Literal::Word(_) => json!({ "type": "string" }),
            Literal::Words(_) | Literal::Quantities(_) => json!({ "type": "array" }),
        };
        schema["description"] = json!(format!("{} unless adjusted", constant.value.show()));
        properties[&*constant.name] = schema;
    }
    let mut schema = json!({ "type": "object", "properties": properties, "required": ["because"] });
    if let Some((title, _)) = of {
        schema["description"] = json!(title);
        schema["additionalProperties"] = json!(false);
    }
    schema
}

fn text(description: &str) -> Value {
    json!({ "type": "string", "description": description })
}

fn scalar() -> Value {
    json!({ "type": ["string", "number", "boolean"] })
}
