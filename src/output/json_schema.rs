//! JSON schemas of what the commands write for programs. New fields may come; the listed ones stay.

use serde_json::{Map, Value, json};

/// The schema of one output, by its name.
pub fn output_schema(of: &str) -> Option<Value> {
    let fields = match of {
        "findings" => json!({
            "tool": object(json!({ "name": text(), "version": text() })),
            "files": whole(),
            "left_out": whole(),
            "findings": list(finding()),
            "summary": optional(json!({ "error": whole(), "warning": whole(), "note": whole(), "waived": whole() }), json!({ "known": whole() })),
            "off": list(object(json!({ "rule": text(), "folder": or_null("string"), "because": text() }))),
        }),
        "facts" => json!({ "details": list(detail()), "assemblies": list(assembly()) }),
        "compare" => comparison(),
        "rule-list" => json!({
            "rules": list(object(json!({
                "id": text(), "title": text(), "level": level(), "about": text(), "topic": or_null("string"),
                "off": { "type": "boolean" }, "limits": list(object(json!({ "name": text(), "value": text() }))),
                "basis": list(basis()), "adjusted": list(text()), "file": or_null("string"),
            }))),
            "texts": list(object(json!({ "id": text(), "title": text(), "level": level(), "says": text(), "fix": text() }))),
        }),
        "materials" => json!({ "materials": list(material()) }),
        "exceptions" => exceptions(),
        _ => return None,
    };
    let mut schema = object(with(fields, json!({ "format": { "const": super::json::FORMAT } })));
    schema["$schema"] = json!("http://json-schema.org/draft-07/schema#");
    schema["title"] = json!(format!("headlap: {of}"));
    Some(schema)
}

/// A finding, as a line of `jsonl` has it too.
fn finding() -> Value {
    let place = json!({ "file": or_null("string"), "line": or_null("integer"), "column": or_null("integer") });
    let spot = object(with(place.clone(), json!({ "message": text() })));
    let fields = with(
        place,
        json!({
            "rule": text(), "title": text(), "level": level(), "message": text(),
            "end_line": or_null("integer"), "end_column": or_null("integer"), "item": or_null("string"),
            "subject": list(text()),
            "values": { "type": "object", "additionalProperties": text() },
            "quantities": { "type": "object", "additionalProperties": object(json!({ "value": number(), "unit": text() })) },
            "fix": or_null("string"), "basis": list(basis()), "related": list(spot.clone()), "trail": list(spot),
            "waived": { "anyOf": [
                { "type": "null" },
                object(json!({ "because": text(), "by": or_null("string"), "until": or_null("string") })),
            ] },
        }),
    );
    optional(fields, json!({ "known": { "type": "boolean" } }))
}

fn detail() -> Value {
    let step = object(json!({ "piece": text(), "height_mm": or_null("number"), "event": text() }));
    object(json!({
        "file": text(), "name": text(), "kind": text(), "title": or_null("string"), "sheet": or_null("string"),
        "joins": list(text()), "passed": { "type": "boolean" },
        "laps": list(object(json!({
            "over": text(), "under": text(), "run": text(), "length_mm": number(),
            "shingled": { "type": "boolean" }, "sealed": { "type": "boolean" },
            "seam_watertight": { "type": "boolean" }, "slope_deg": or_null("number"),
        }))),
        "folds": list(object(json!({
            "kind": text(), "axis": { "enum": ["up", "along"] }, "at_mm": number(), "angle_deg": or_null("number"),
        }))),
        "sides": list(object(json!({
            "axis": { "enum": ["up", "along"] }, "from_mm": or_null("number"), "to_mm": or_null("number"),
            "heading_deg": number(),
        }))),
        "drops": list(object(json!({ "event": text(), "pieces": list(text()), "ends": list(text()), "path": list(step) }))),
        "transitions": list(object(json!({
            "control": text(), "from": text(), "to": text(), "continuous": { "type": "boolean" },
        }))),
    }))
}

fn assembly() -> Value {
    let layer = object(json!({
        "name": text(), "material": text(), "title": or_null("string"), "controls": list(text()),
        "thickness_mm": or_null("number"), "r_value_m2K_W": or_null("number"),
        "sd_dry_m": or_null("number"), "sd_wet_m": or_null("number"),
        "permeance_perm": or_null("number"), "vapor_class": or_null("string"),
        "dries_out_perm": or_null("number"), "dries_in_perm": or_null("number"),
    }));
    let month = object(json!({ "month": text(), "held_g_m2": number() }));
    let condensation = object(json!({
        "peak_g_m2": number(), "residue_g_m2": number(),
        "months": { "type": "array", "items": number(), "minItems": 12, "maxItems": 12 },
        "by_month": list(month),
    }));
    let interface = object(json!({
        "at": text(), "temperature_C": number(), "saturation_Pa": number(), "pressure_Pa": number(),
        "condenses": { "type": "boolean" },
    }));
    let design = object(json!({
        "condensate_kg_m2": number(), "drying_kg_m2": number(), "residue_kg_m2": number(),
        "interfaces": list(interface),
    }));
    object(json!({
        "file": text(), "name": text(), "kind": text(), "title": or_null("string"), "climate": or_null("string"),
        "r_value_m2K_W": or_null("number"), "u_value_W_m2K": or_null("number"), "layers": list(layer),
        "condensation": { "anyOf": [{ "type": "null" }, condensation] },
        "design_condition": { "anyOf": [{ "type": "null" }, design] },
        "drying_months": or_null("integer"), "f_rsi": or_null("number"),
        "indoors": or_null("string"), "climate_source": or_null("string"),
    }))
}

fn comparison() -> Value {
    let change = object(json!({
        "what": text(), "issued": or_null("string"), "submitted": or_null("string"), "follows": or_null("string"),
    }));
    let item = object(json!({
        "name": text(), "issued_as": or_null("string"), "state": { "enum": ["added", "removed", "changed"] },
        "title": or_null("string"), "sheet": or_null("string"), "sections": list(text()), "changes": list(change),
    }));
    let row = object(json!({
        "property": text(), "control": or_null("string"), "issued": text(), "submitted": text(), "verdict": text(),
    }));
    let entry = json!({
        "rule": text(), "title": text(), "level": level(), "message": text(), "file": or_null("string"),
        "line": or_null("integer"), "item": or_null("string"), "fix": or_null("string"),
    });
    let entries = list(object(entry.clone()));
    let waiver = object(json!({
        "item": text(), "rule": text(), "on": or_null("string"), "because": text(), "by": or_null("string"),
        "until": or_null("string"),
    }));
    json!({
        "project": or_null("string"), "submittal": or_null("string"), "date": text(),
        "not_applied": object(json!({ "waivers": list(waiver), "settings": list(text()) })),
        "details": list(item.clone()), "assemblies": list(item.clone()), "others": list(item),
        "materials": list(object(json!({ "issued": text(), "submitted": text(), "properties": list(row) }))),
        "findings": object(json!({
            "new": entries, "worse": list(object(with(entry, json!({ "was": text() })))), "gone": entries,
            "unchanged": entries, "unread_issued": entries, "unread": entries,
        })),
        "proposal": object(json!({ "action": text(), "because": text(), "stands": or_null("string") })),
    })
}

fn material() -> Value {
    let quantity = || json!({ "anyOf": [{ "type": "null" }, object(json!({ "value": number(), "unit": text() }))] });
    let mut fields = Map::new();
    for name in ["kind", "title", "surface", "adhesive", "section", "source"] {
        fields.insert(name.to_owned(), or_null("string"));
    }
    for name in ["thickness", "vapor", "vapor_wet", "conductivity", "resistance", "density", "air_permeance"] {
        fields.insert(name.to_owned(), quantity());
    }
    object(with(Value::Object(fields), json!({ "name": text(), "holds": list(text()) })))
}

fn exceptions() -> Value {
    let why = json!({ "rule": text(), "because": or_null("string"), "by": or_null("string") });
    let place = json!({ "file": text(), "line": whole() });
    json!({
        "waivers": list(object(with(with(place.clone(), why.clone()), json!({
            "item": text(), "on": or_null("string"), "until": or_null("string"), "days_left": or_null("integer"),
            "covers": whole(),
        })))),
        "adjustments": list(object(with(place, json!({
            "rule": text(), "folder": or_null("string"), "change": text(), "off": { "type": "boolean" },
            "because": text(),
        })))),
        "known": list(object(with(why, json!({ "file": text(), "item": or_null("string"), "message": text() })))),
    })
}

fn basis() -> Value {
    object(json!({ "source": text(), "clause": or_null("string"), "says": or_null("string"), "known": text() }))
}

fn level() -> Value {
    json!({ "enum": ["error", "warning", "note"] })
}

fn text() -> Value {
    json!({ "type": "string" })
}

fn number() -> Value {
    json!({ "type": "number" })
}

fn whole() -> Value {
    json!({ "type": "integer", "minimum": 0 })
}

fn or_null(of: &str) -> Value {
    json!({ "type": [of, "null"] })
}

fn list(of: Value) -> Value {
    json!({ "type": "array", "items": of })
}

/// All of these fields are there.
fn object(fields: Value) -> Value {
    optional(fields, json!({}))
}

/// The first fields are always there, the others at times.
fn optional(fields: Value, others: Value) -> Value {
    let names: Vec<String> = fields.as_object().map_or(Vec::new(), |fields| fields.keys().cloned().collect());
    json!({ "type": "object", "properties": with(fields, others), "required": names })
}

fn with(fields: Value, others: Value) -> Value {
    match (fields, others) {
        (Value::Object(mut fields), Value::Object(others)) => {
            fields.extend(others);
            Value::Object(fields)
        }
        (fields, _) => fields,
    }
}
