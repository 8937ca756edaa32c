//! The schemas for editors: as old as the program, and in agreement with it on the rules that ship.

use std::fs;
use std::path::{Path, PathBuf};

use headlap::output::{rule_schema, settings_schema};
use headlap::rules::{Pack, RULE_KEYS};
use serde_json::Value;

fn pack() -> Pack {
    Pack::load(&[]).unwrap_or_else(|findings| panic!("{findings:?}"))
}

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn toml(text: &str) -> Value {
    toml::from_str(text).expect("TOML")
}

#[test]
fn the_schemas_that_are_filed_are_those_that_the_program_writes() {
    for (file, schema) in [("rules.schema.json", rule_schema()), ("headlap.schema.json", settings_schema(&pack()))] {
        let filed = fs::read_to_string(root().join("editors/schemas").join(file)).unwrap_or_default();
        let filed: Value = serde_json::from_str(&filed).unwrap_or_default();
        assert!(filed == schema, "{file} is out of date: cargo run -- schema rules|settings > editors/schemas/{file}");
    }
}

#[test]
fn the_rules_that_ship_fit_their_schema() {
    fn gather(folder: &Path, into: &mut Vec<PathBuf>) {
        for entry in fs::read_dir(folder).expect("the rules can be read") {
            let path = entry.expect("the rules can be read").path();
            match path.is_dir() {
                // The library to begin from has settings, not rules.
                true if path.ends_with("rules/start") => {}
                true => gather(&path, into),
                false => into.extend(Some(path).filter(|path| path.extension().is_some_and(|e| e == "toml"))),
            }
        }
    }
    let validator = jsonschema::validator_for(&rule_schema()).expect("a schema");
    let mut files = Vec::new();
    gather(&root().join("rules"), &mut files);
    assert!(files.len() > 50);
    for file in files {
        let rules = toml(&fs::read_to_string(&file).expect("the rules can be read"));
        let errors: Vec<String> =
            validator.iter_errors(&rules).map(|e| format!("{e} at {}", e.instance_path())).collect();
        assert!(errors.is_empty(), "{}: {}", file.display(), errors.join("\n"));
    }
}

#[test]
fn the_settings_of_the_library_to_begin_from_fit_their_schema() {
    let validator = jsonschema::validator_for(&settings_schema(&pack())).expect("a schema");
    let text = fs::read_to_string(root().join("rules/start/headlap.toml")).expect("settings");
    // Also with what it only suggests.
    let suggested: String = text
        .lines()
        .map(|line| match line.strip_prefix("# ") {
            Some(line) if line.contains(" = ") => format!("{line}\n"),
            _ => format!("{line}\n"),
        })
        .collect();
    for text in [&text, &suggested] {
        assert!(validator.is_valid(&toml(text)), "{text}");
    }
}

#[test]
fn the_rule_schema_knows_the_keys_that_the_program_knows() {
    let schema = rule_schema();
    let keys = schema["properties"]["rule"]["items"]["properties"].as_object().expect("keys");
    let (mut known, mut listed): (Vec<&str>, Vec<&str>) =
        (RULE_KEYS.to_vec(), keys.keys().map(String::as_str).collect());
    known.sort_unstable();
    listed.sort_unstable();
    assert_eq!(known, listed);
    let validator = jsonschema::validator_for(&schema).expect("a schema");
    assert!(!validator.is_valid(&toml("[[rule]]\nid = \"Bad Id\"\n")));
    assert!(!validator.is_valid(&toml("[[rules]]\nid = \"x\"\n")));
}

#[test]
fn settings_and_their_schema_agree() {
    let schema = settings_schema(&pack());
    let validator = jsonschema::validator_for(&schema).expect("a schema");
    let keys = schema["properties"].as_object().expect("keys");
    let mut known = headlap::project::SETTINGS_KEYS.to_vec();
    known.sort_unstable();
    assert_eq!(known, keys.keys().map(String::as_str).collect::<Vec<_>>());
    let good = "fail-on = \"warning\"\n[adjust.short-head-lap]\nlimit = \"100 mm\"\nbecause = \"x\"\n";
    assert!(validator.is_valid(&toml(good)));
    for wrong in [
        "fail-on = \"eror\"",
        "clmate = \"x\"",
        "[adjust.short-head-lap]\nlimit = \"100 mm\"\n",
        "[adjust.short-head-lap]\nlmit = \"100 mm\"\nbecause = \"x\"\n",
        "[adjust.short-head-lap]\nlevel = \"fatal\"\nbecause = \"x\"\n",
    ] {
        assert!(!validator.is_valid(&toml(wrong)), "{wrong}");
    }
}

/// What the commands write fits what `headlap schema` says of it, and says no less: every field is described.
#[test]
fn outputs_fit_their_schemas() {
    let demo = root().join("examples/millrace");
    let written = |args: &[&str]| -> Value {
        let output = crate::command::headlap().current_dir(&demo).args(args).output().expect("it runs");
        serde_json::from_slice(&output.stdout).unwrap_or_else(|error| panic!("{args:?}: {error}"))
    };
    for (of, args) in [
        ("findings", &["review", ".", "--format", "json"] as &[&str]),
        ("facts", &["facts", ".", "--format", "json"]),
        ("compare", &["compare", "walls.detail", "roof.detail", "--format", "json"]),
        ("rule-list", &["rules", "list", "--format", "json"]),
        ("materials", &["materials", "--format", "json"]),
        ("exceptions", &["exceptions", "--format", "json"]),
    ] {
        let schema = written(&["schema", of]);
        let validator = jsonschema::validator_for(&schema).expect("a schema");
        let value = written(args);
        let errors: Vec<String> =
            validator.iter_errors(&value).map(|e| format!("{e} at {}", e.instance_path())).take(5).collect();
        assert!(errors.is_empty(), "{of}: {}", errors.join("\n"));
        let mut strict = schema.clone();
        close(&mut strict);
        let validator = jsonschema::validator_for(&strict).expect("a schema");
        let undescribed: Vec<String> = validator.iter_errors(&value).map(|e| e.to_string()).take(3).collect();
        assert!(undescribed.is_empty(), "{of} has fields that its schema lacks: {}", undescribed.join("\n"));
    }
    let facts = written(&["facts", ".", "--format", "json"]);
    assert!(facts["details"].as_array().expect("details").iter().any(|detail| detail["passed"] == true));
    assert!(facts["assemblies"][0]["layers"][0]["thickness_mm"].is_number());
    let findings = written(&["review", ".", "--format", "json"]);
    let with_number = |finding: &Value| finding["quantities"].as_object().is_some_and(|all| !all.is_empty());
    assert!(findings["findings"].as_array().expect("findings").iter().any(with_number), "numbers beside the text");
}

/// Takes every object with listed properties for complete.
fn close(schema: &mut Value) {
    match schema {
        Value::Object(fields) => {
            if fields.get("properties").is_some() && fields.get("type").is_some_and(|of| of == "object") {
                fields.insert("additionalProperties".to_owned(), Value::Bool(false));
            }
            fields.values_mut().for_each(close);
        }
        Value::Array(all) => all.iter_mut().for_each(close),
        _ => {}
    }
}
