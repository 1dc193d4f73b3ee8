//! TypeScript types from JSON Schemas: as much of both as this project uses.

use crate::Result;
use serde_json::{Map, Value};
use std::collections::BTreeMap;
use std::fmt::Write as _;

/// The longest line of a comment.
const WIDTH: usize = 100;

/// Writes the types of all schemas, each once. A name that two documents use for different things is
/// prefixed with the second document's.
///
/// # Errors
/// A schema that uses what is not known here.
pub fn types(schemas: &[Value]) -> Result<String> {
    let mut known: BTreeMap<String, Value> = BTreeMap::new();
    for schema in schemas {
        let title = schema["title"].as_str().ok_or("a schema without a title")?;
        let nothing = Map::new();
        let inner = schema["$defs"].as_object().unwrap_or(&nothing);
        let renamed = renamed(title, inner, &known);
        let mut whole = schema.clone();
        if let Some(fields) = whole.as_object_mut() {
            for extra in ["$schema", "$defs", "title"] {
                fields.remove(extra);
            }
        }
        let all = inner
            .iter()
            .map(|(name, of)| (renamed[name.as_str()].clone(), of.clone()));
        for (name, mut of) in all.chain([(title.to_owned(), whole)]) {
            rename(&mut of, &renamed);
            if let Some(before) = known.insert(name.clone(), of.clone())
                && before != of
            {
                return Err(format!("two different types are called {name}"));
            }
        }
    }
    let mut text = String::from(
        "// Generated from the Rust types by `cargo xtask wasm --types`; do not edit.\n",
    );
    for (name, schema) in &known {
        text.push('\n');
        declare(&mut text, name, schema)?;
    }
    Ok(text)
}

/// The names under which a document's types go: their own, unless something else has it already or
/// they refer to such a one.
fn renamed<'a>(
    title: &str,
    inner: &'a Map<String, Value>,
    known: &BTreeMap<String, Value>,
) -> BTreeMap<&'a str, String> {
    let own = inner.keys().map(|name| (name.as_str(), name.clone()));
    let mut names: BTreeMap<&str, String> = own.collect();
    loop {
        let before = names.clone();
        for (name, of) in inner {
            let mut of = of.clone();
            rename(&mut of, &before);
            if known.get(name).is_some_and(|known| *known != of) {
                names.insert(name, format!("{title}{name}"));
            }
        }
        if names == before {
            return names;
        }
    }
}

/// Puts new names into references.
fn rename(schema: &mut Value, names: &BTreeMap<&str, String>) {
    match schema {
        Value::Object(fields) => {
            for (key, value) in fields {
                match value {
                    Value::String(to) if key == "$ref" => {
                        let new = to.strip_prefix("#/$defs/").and_then(|name| names.get(name));
                        if let Some(new) = new {
                            *to = format!("#/$defs/{new}");
                        }
                    }
                    value => rename(value, names),
                }
            }
        }
        Value::Array(items) => items.iter_mut().for_each(|item| rename(item, names)),
        _ => {}
    }
}

fn declare(text: &mut String, name: &str, schema: &Value) -> Result {
    comment(text, "", schema);
    if schema["properties"].is_object() && schema["oneOf"].is_null() {
        let body = object(schema, "")?;
        let _ = writeln!(text, "export interface {name} {body}");
        return Ok(());
    }
    if let Some(choices) = schema["oneOf"].as_array() {
        let _ = writeln!(text, "export type {name} =");
        for choice in choices {
            comment(text, "  ", choice);
            let _ = writeln!(text, "  | {}", expression(choice, "  ")?);
        }
        // The semicolon belongs to the last choice.
        text.truncate(text.trim_end().len());
        text.push_str(";\n");
        return Ok(());
    }
    let _ = writeln!(text, "export type {name} = {};", expression(schema, "")?);
    Ok(())
}

/// A description as a comment.
fn comment(text: &mut String, indent: &str, schema: &Value) {
    let Some(description) = schema["description"].as_str() else {
        return;
    };
    let mut lines: Vec<String> = Vec::new();
    for paragraph in description.split('\n') {
        let mut line = String::new();
        for word in paragraph.split_whitespace() {
            if !line.is_empty() && indent.len() + line.len() + word.len() > WIDTH {
                lines.push(std::mem::take(&mut line));
            }
            if !line.is_empty() {
                line.push(' ');
            }
            line.push_str(word);
        }
        lines.push(line);
    }
    match lines.as_slice() {
        [line] => {
            let _ = writeln!(text, "{indent}/** {line} */");
        }
        lines => {
            let _ = writeln!(text, "{indent}/**");
            for line in lines {
                let _ = writeln!(text, "{}", format!("{indent} * {line}").trim_end());
            }
            let _ = writeln!(text, "{indent} */");
        }
    }
}

fn object(schema: &Value, indent: &str) -> Result<String> {
    let required = |name: &str| {
        let names = schema["required"].as_array().into_iter().flatten();
        { names }.any(|required| required == name)
    };
    let mut text = String::from("{\n");
    let deeper = format!("{indent}  ");
    for (name, field) in schema["properties"].as_object().into_iter().flatten() {
        comment(&mut text, &deeper, field);
        let mark = if required(name) { "" } else { "?" };
        let mut of = expression(field, &deeper)?;
        if !required(name) {
            // Left out, not null: that is how they are written.
            of.push_str(" | undefined");
        }
        let _ = writeln!(text, "{deeper}{name}{mark}: {of};");
    }
    let _ = write!(text, "{indent}}}");
    Ok(text)
}

/// The type that a schema stands for.
fn expression(schema: &Value, indent: &str) -> Result<String> {
    let unknown = || format!("no TypeScript type is known for {schema}");
    if let Some(to) = schema["$ref"].as_str() {
        return Ok(to.strip_prefix("#/$defs/").ok_or_else(unknown)?.to_owned());
    }
    if !schema["const"].is_null() {
        return Ok(schema["const"].to_string());
    }
    if let Some(values) = schema["enum"].as_array() {
        let values: Vec<String> = values.iter().map(Value::to_string).collect();
        return Ok(values.join(" | "));
    }
    if let Some(choices) = schema["anyOf"].as_array().or(schema["oneOf"].as_array()) {
        let choices: Result<Vec<String>> = choices
            .iter()
            .map(|choice| expression(choice, indent))
            .collect();
        return Ok(choices?.join(" | "));
    }
    let kinds: Vec<&str> = match &schema["type"] {
        Value::String(kind) => vec![kind],
        Value::Array(kinds) => kinds.iter().filter_map(Value::as_str).collect(),
        _ => return Err(unknown()),
    };
    let kinds: Result<Vec<String>> = kinds
        .into_iter()
        .map(|kind| {
            Ok(match kind {
                "string" => "string".to_owned(),
                "boolean" => "boolean".to_owned(),
                "null" => "null".to_owned(),
                "number" | "integer" => "number".to_owned(),
                "array" => list(schema, indent)?,
                "object" if schema["properties"].is_object() => object(schema, indent)?,
                "object" => map(schema, indent)?,
                _ => return Err(unknown()),
            })
        })
        .collect();
    Ok(kinds?.join(" | "))
}

fn list(schema: &Value, indent: &str) -> Result<String> {
    if let Some(items) = schema["prefixItems"].as_array() {
        let items: Result<Vec<String>> =
            items.iter().map(|item| expression(item, indent)).collect();
        return Ok(format!("[{}]", items?.join(", ")));
    }
    let item = expression(&schema["items"], indent)?;
    Ok(if item.contains(' ') {
        format!("({item})[]")
    } else {
        format!("{item}[]")
    })
}

/// A map by id, or by names that are all known, of which any may be absent.
fn map(schema: &Value, indent: &str) -> Result<String> {
    let value = expression(&schema["additionalProperties"], indent)?;
    let names = &schema["propertyNames"];
    if names.is_object() {
        let names = expression(names, indent)?;
        return Ok(format!("Partial<Record<{names}, {value}>>"));
    }
    Ok(format!("Record<string, {value}>"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn fields_that_may_be_absent_are_marked() {
        let schema = json!({
            "title": "Pair",
            "description": "Two things.",
            "type": "object",
            "properties": {
                "one": { "type": "string", "description": "The first." },
                "other": { "type": ["number", "null"] }
            },
            "required": ["one"]
        });
        let text = types(&[schema]).unwrap();
        let want = "/** Two things. */\nexport interface Pair {\n  /** The first. */\n  one: string;\n  \
                    other?: number | null | undefined;\n}\n";
        assert!(text.ends_with(want), "{text}");
    }

    #[test]
    fn a_name_used_for_something_else_is_prefixed() {
        let of = |title: &str, kind: &str| {
            json!({
                "title": title,
                "type": "object",
                "properties": { "part": { "$ref": "#/$defs/Part" } },
                "required": ["part"],
                "$defs": { "Part": { "type": kind } }
            })
        };
        let text = types(&[of("One", "string"), of("Other", "number")]).unwrap();
        assert!(text.contains("export type Part = string;"), "{text}");
        assert!(text.contains("export type OtherPart = number;"), "{text}");
        assert!(text.contains("part: OtherPart;"), "{text}");
    }

    #[test]
    fn what_is_not_known_is_refused() {
        let schema = json!({ "title": "Odd", "not": { "type": "string" } });
        assert!(types(&[schema]).is_err_and(|error| error.contains("no TypeScript type")));
    }
}
