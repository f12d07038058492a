//! What is published of the formats is made from the types, and fits the samples.
//!
//! `UPDATE_PUBLISHED=1 cargo test --release published` writes the files anew.

use std::fmt::Write;
use std::fs;
use std::path::Path;

use boon::{Compiler, Schemas};
use retestify::intake::shapes::{schema_of, schemas};
use retestify::quantity::{Dimension, unit_symbols};
use retestify::result::{DocumentFile, ResultFile};
use retestify::verification::Verification;
use serde_json::Value;

use crate::folder::samples;
use crate::samples::{names, result_of};

fn all() -> Vec<(&'static str, Value)> {
    let mut all: Vec<(&str, Value)> = schemas()
        .into_iter()
        .map(|(name, schema)| (name, schema.to_value()))
        .collect();
    all.push(("result", schema_of::<ResultFile>().to_value()));
    all.push(("document", schema_of::<DocumentFile>().to_value()));
    all.push(("verify", schema_of::<Verification>().to_value()));
    all
}

#[track_caller]
fn is_published(path: &Path, text: &str) {
    if std::env::var_os("UPDATE_PUBLISHED").is_some() {
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, text).unwrap();
    }
    let found = fs::read_to_string(path).unwrap_or_default();
    assert!(
        found == text,
        "{} is out of date: run the tests once with UPDATE_PUBLISHED=1",
        path.display()
    );
}

#[test]
fn the_schemas_are_those_of_the_types() {
    for (name, schema) in all() {
        let text = serde_json::to_string_pretty(&schema).unwrap() + "\n";
        is_published(
            &samples().join(format!("schemas/{name}.schema.json")),
            &text,
        );
    }
}

#[track_caller]
fn fits(name: &str, instance: &Value) {
    let (_, schema) = all().into_iter().find(|(known, _)| *known == name).unwrap();
    let mut schemas = Schemas::new();
    let mut compiler = Compiler::new();
    compiler.add_resource("schema.json", schema).unwrap();
    let index = compiler.compile("schema.json", &mut schemas).unwrap();
    if let Err(error) = schemas.validate(instance, index) {
        panic!("{name}: {error}");
    }
}

/// A file as an editor sees it: TOML as JSON, times as text.
fn as_json(value: &toml::Value) -> Value {
    match value {
        toml::Value::Table(table) => table
            .iter()
            .map(|(key, value)| (key.clone(), as_json(value)))
            .collect(),
        toml::Value::Array(list) => list.iter().map(as_json).collect(),
        toml::Value::Datetime(moment) => Value::String(moment.to_string()),
        other => serde_json::to_value(other).unwrap(),
    }
}

#[test]
fn every_sample_fits_the_published_schemas() {
    for sample in names() {
        for (file, schema) in [
            ("job", "job"),
            ("limits", "limits"),
            ("baseline", "run"),
            ("work", "work"),
            ("retest", "run"),
        ] {
            let path = samples().join(sample).join(format!("{file}.toml"));
            let text = fs::read_to_string(path).unwrap();
            fits(schema, &as_json(&toml::from_str(&text).unwrap()));
        }
    }
}

#[test]
fn every_result_fits_its_published_schema() {
    for sample in names() {
        fits("result", &result_of(sample).1);
    }
}

#[test]
fn every_verification_fits_its_published_schema() {
    let story = crate::story::story();
    for file in [&story.report, &story.receipt] {
        let found = retestify::verification::verify(file, &story.known());
        fits("verify", &serde_json::to_value(found).unwrap());
    }
}

/// A schema that takes anything would pass the tests above.
#[test]
#[should_panic(expected = "result")]
fn a_wrong_result_does_not_fit() {
    let (_, mut result) = result_of("frost-fan");
    result["verdict"] = "fine".into();
    fits("result", &result);
}

/// The structure check understands just these keywords; another one in the types
/// would go unchecked.
#[test]
fn the_schemas_use_known_keywords_only() {
    const KNOWN: [&str; 24] = [
        "$schema",
        "$ref",
        "definitions",
        "title",
        "description",
        "type",
        "properties",
        "required",
        "additionalProperties",
        "items",
        "enum",
        "const",
        "oneOf",
        "anyOf",
        "allOf",
        "format",
        "minimum",
        "maximum",
        "minLength",
        "maxLength",
        "minItems",
        "maxItems",
        "default",
        "$defs",
    ];
    fn walk(schema: &Value, is_map_of_names: bool) {
        match schema {
            Value::Object(map) => {
                for (key, value) in map {
                    assert!(is_map_of_names || KNOWN.contains(&key.as_str()), "`{key}`");
                    let names = ["properties", "definitions", "$defs"].contains(&key.as_str());
                    if key != "default" {
                        walk(value, names && !is_map_of_names);
                    }
                }
            }
            Value::Array(list) => list.iter().for_each(|value| walk(value, false)),
            _ => {}
        }
    }
    for (_, schema) in schemas() {
        walk(schema.as_value(), false);
    }
}

#[test]
fn the_reference_is_made_from_the_schemas() {
    is_published(&samples().join("FORMAT.md"), &reference());
}

fn reference() -> String {
    let mut out = String::from(
        "# The job folder, key by key\n\n\
         This page is generated from the program's types; the JSON Schemas in `schemas/` say \
         the same to an editor. A job folder holds `job.toml`, `limits.toml`, `baseline.toml`, \
         `work.toml`, `retest.toml` and the photos they name. `shop.toml` is in the folder or \
         in any folder above it. Files are TOML 1.0 in UTF-8, at most 1 MiB; unknown keys are \
         refused. `retestify init` makes a folder with all files, with comments.\n\n\
         The five samples beside this page are complete examples.\n",
    );
    for (name, schema) in schemas() {
        let schema = schema.to_value();
        let file = if name == "run" {
            "baseline.toml and retest.toml"
        } else {
            name
        };
        let ending = if name == "run" { "" } else { ".toml" };
        writeln!(
            out,
            "\n## {file}{ending}\n\n{}\n",
            one_line(&schema["description"])
        )
        .unwrap();
        keys(&mut out, &schema, &schema["definitions"]);
        for (title, table) in schema["definitions"].as_object().into_iter().flatten() {
            if table["properties"].is_object() {
                let at = place_of(&schema, title);
                writeln!(out, "\n### {at}\n\n{}\n", one_line(&table["description"])).unwrap();
                keys(&mut out, table, &schema["definitions"]);
            }
        }
    }
    out += "\n## Units\n\nWrite a unit as shown here. `K`, `Δ°C` and `Δ°F` are differences of \
            temperature, `°C` and `°F` are temperatures; one is refused where the other is \
            meant. What a keyboard lacks may be typed with what it has: `m2`, `um`, `l/min`, \
            `N.m`, `degC`. The factors are those of NIST SP 811, appendix B. A year (`g/a`) has \
            365 days; `gal`, `pt`, `qt` and `fl oz` are those of the United States.\n\n\
            Fuel for a distance (`L/100 km`) and distance for fuel (`mpg (US)`, in plain letters \
            `mpg_us`) are two quantities and are not converted into each other: what is better \
            changes sides, and the mean of several readings in one is not that in the other. A \
            unit of pressure does not say what it is measured against (`psig`, `bara`): \
            `pressure` of the measure does. `dB(A)` is a sound level with that weighting, and \
            the errors of its meter are in `dB`.\n\n\
            | measures | units |\n| --- | --- |\n";
    for dimension in Dimension::ALL {
        let units: Vec<String> = unit_symbols(dimension)
            .iter()
            .map(|unit| format!("`{unit}`"))
            .collect();
        writeln!(out, "| {dimension} | {} |", units.join(", ")).unwrap();
    }
    out
}

fn one_line(text: &Value) -> String {
    text.as_str().unwrap_or_default().replace('\n', " ")
}

/// How a table is written in the file: `[[measure]]`, `[customer]`.
fn place_of(schema: &Value, title: &str) -> String {
    let points = |value: &Value| value.to_string().contains(&format!("/{title}\""));
    let parents = std::iter::once(&schema["properties"]).chain(
        schema["definitions"]
            .as_object()
            .into_iter()
            .flatten()
            .map(|(_, d)| &d["properties"]),
    );
    for properties in parents {
        for (key, value) in properties.as_object().into_iter().flatten() {
            if !points(value) {
                continue;
            }
            return if value["type"] == "array" && key != "rows" {
                format!("`[[{key}]]`")
            } else if value["additionalProperties"].is_object() {
                format!("`[{key}.ID]`")
            } else {
                format!("`{key}`")
            };
        }
    }
    title.to_owned()
}

/// The words that a key takes, each with what it means.
fn words_of(value: &Value, definitions: &Value) -> String {
    let text = value.to_string();
    let found = definitions
        .as_object()
        .into_iter()
        .flatten()
        .find(|(name, definition)| {
            definition["properties"].is_null() && text.contains(&format!("/{name}\""))
        });
    let Some((_, definition)) = found else {
        return String::new();
    };
    let branches = definition["oneOf"].as_array().into_iter().flatten();
    let words: Vec<String> = branches
        .filter_map(|branch| {
            let word = branch["const"].as_str().or(branch["enum"][0].as_str())?;
            let about = one_line(&branch["description"]);
            Some(format!("`{word}` ({})", about.trim_end_matches('.')))
        })
        .collect();
    format!(" One of {}.", words.join(", "))
}

fn keys(out: &mut String, table: &Value, definitions: &Value) {
    *out += "| key | | what it is |\n| --- | --- | --- |\n";
    let required: Vec<&str> = table["required"]
        .as_array()
        .into_iter()
        .flatten()
        .filter_map(Value::as_str)
        .collect();
    for (key, value) in table["properties"].as_object().into_iter().flatten() {
        let words = words_of(value, definitions);
        let must = if required.contains(&key.as_str()) {
            "required"
        } else {
            ""
        };
        writeln!(
            out,
            "| `{key}` | {must} | {}{words} |",
            one_line(&value["description"])
        )
        .unwrap();
    }
}
