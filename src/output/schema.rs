//! JSON schemas of rule files and of `headlap.toml`, for editors that check and complete TOML while it is typed.
//!
//! The program itself does not read them: it knows more than a schema can say, such as which fields an expression may ask.

use serde_json::{Map, Value, json};

use crate::facts::vocabulary::Kind;
use crate::finding::{Known, Level};
use crate::output::drawing::LAYERS;
use crate::rules::{ASSUMED, Constant, Literal, Pack, editions};

const DIALECT: &str = "http://json-schema.org/draft-07/schema#";

/// What a rule file can contain: rules, tables, kinds of detail, words.
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
            "id": { "type": "string", "pattern": "^[a-z][a-z0-9-]*$", "description": "The id of the rule in findings and waivers." },
            "title": text("A title in the words of the trade."),
            "level": { "enum": Level::ALL.map(Level::word) },
            "about": { "enum": Kind::ALL.map(Kind::word), "description": "The kind of thing that the rule looks at; each one that fails is a finding." },
            "when": text("The condition for looking at one of them. Default: all."),
            "except": { "type": "array", "description": "What the rule lets pass of what `when` picks.", "items": {
                "type": "object",
                "properties": {
                    "when": text("The condition under which it does."),
                    "because": text("The reason, for whoever reads the rule."),
                },
                "required": ["when", "because"],
                "additionalProperties": false,
            } },
            "needs": text("The condition that has to hold."),
            "says": text("The finding's sentence, with {expressions}."),
            "fix": text("What to do, with {expressions}."),
            "at": text("The thing, or part of one, whose text is underlined. Default: the thing that the rule looks at."),
            "per": text("Findings with the same value here become one."),
            "replaces": { "type": "boolean", "description": "The rule replaces the built-in rule of the same id." },
            "basis": { "type": "array", "items": basis },
            "example": { "type": "array", "items": {
                "type": "object",
                "properties": {
                    "fails": text("Details that the rule finds fault with."),
                    "cured": text("The same details after doing what `fix` says: the finding is gone, and no new one has come."),
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
        "description": "A table for `lookup` in expressions: a value for each combination of its keys.",
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
            ASSUMED: { "type": "object", "description": "Values assumed for the facts before any rule runs." },
        },
        "additionalProperties": false,
    })
}

/// What `headlap.toml` can contain. The rules of the pack have their own constants; those of a firm are open.
pub fn settings_schema(pack: &Pack) -> Value {
    let adjustments: Map<String, Value> =
        pack.rules.iter().map(|rule| (rule.id.to_string(), adjustment(Some((&rule.title, &rule.constants))))).collect();
    let adjust = json!({
        "type": "object",
        "description": "What the project changes in the rules, each with its reason.",
        "properties": adjustments,
        "additionalProperties": adjustment(None),
    });
    let mut everywhere = adjust.clone();
    let mut assumed =
        adjustment(Some(("Values assumed for the facts before any rule runs", &pack.assumed_table.constants)));
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
            "required-version": text("The versions of headlap that this library works with, such as >=0.1, <0.3."),
            "rules-edition": {
                "enum": editions().collect::<Vec<_>>(),
                "description": "The edition of the stock rules that the library is checked against; later rules are off.",
            },
            "rules": { "type": "array", "items": { "type": "string" }, "description": "Files and folders of the firm's own rules." },
            "climate": text("The climate of walls, roofs and floors that name none: a built-in climate, or the path of a file with one."),
            "units": { "enum": ["metric", "us"], "description": "The units of numbers in findings; lengths stay in the units of their author." },
            "fail-on": { "enum": ["error", "warning", "note", "never"], "description": "The lowest level of finding that fails a review." },
            "known": text("The list of known findings (baseline): only new findings fail."),
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
                "description": "Settings for the details below one folder only.",
                "properties": { "path": text("The path of the folder from the folder of headlap.toml."), "adjust": adjust },
                "required": ["path"],
                "additionalProperties": false,
            } },
        },
        "additionalProperties": false,
    })
}

fn adjustment(of: Option<(&str, &[Constant])>) -> Value {
    let mut properties = json!({
        "because": { "type": "string", "minLength": 1, "description": "The reason; every finding of the rule shows it." },
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
