//! `cargo xtask wasm`: the package for JavaScript, built and packed.

use crate::npm::{self, folder, node, npm};
use crate::tools::{capture, cargo, fault, metadata, run, target};
use crate::{Result, typescript};
use serde_json::Value;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::OnceLock;
use wasm_bindgen_cli_support::Bindgen;

/// What the engine is compiled for.
pub const TARGET: &str = "wasm32-unknown-unknown";

/// The two modules and the flags each is compiled with.
const MODULES: [(&str, &str); 2] = [
    ("oddment", "-C target-feature=+simd128"),
    ("oddment-base", ""),
];

/// What the compiler may use by itself, and every browser with a module in use knows.
const FEATURES: [&str; 7] = [
    "--enable-bulk-memory",
    "--enable-bulk-memory-opt",
    "--enable-sign-ext",
    "--enable-nontrapping-float-to-int",
    "--enable-mutable-globals",
    "--enable-reference-types",
    "--enable-multivalue",
];

/// The types, which are kept with the sources so that changes are seen.
const TYPES: &str = "js/types.ts";

/// A packed package.
#[derive(Debug)]
pub struct Packed {
    /// The tarball.
    pub tarball: PathBuf,
}

/// Builds the package and packs it as npm would publish it; once in a run, as nothing it is made from
/// changes meanwhile.
///
/// # Errors
/// What is missing or fails.
pub fn build() -> Result<Packed> {
    static TARBALL: OnceLock<PathBuf> = OnceLock::new();
    if let Some(tarball) = TARBALL.get() {
        return Ok(Packed {
            tarball: tarball.clone(),
        });
    }
    let packed = make()?;
    TARBALL.get_or_init(|| packed.tarball.clone());
    Ok(packed)
}

fn make() -> Result<Packed> {
    npm::check_node()?;
    target(TARGET)?;
    let folder = folder();
    npm::install(&folder)?;
    let schemas = schemas()?;
    check_types(&schemas)?;

    let out = folder.join("dist");
    if out.exists() {
        fs::remove_dir_all(&out).map_err(fault(&out))?;
    }
    fs::create_dir_all(&out).map_err(fault(&out))?;
    let target = metadata()?.target;
    let glue = target.join("wasm-glue");
    // Side by side: most of the time each has work for one core only.
    std::thread::scope(|scope| {
        let works = MODULES.map(|(name, flags)| {
            let (target, glue, folder, out) = (&target, &glue, &folder, &out);
            scope.spawn(move || {
                compile(target, glue, name, flags)?;
                let module = glue.join(name).join("glue_bg.wasm");
                optimise(folder, &module, &out.join(name))
            })
        });
        let broken = |_| Err("a build broke off".to_owned());
        works
            .into_iter()
            .try_for_each(|work| work.join().unwrap_or_else(broken))
    })?;
    same_glue(&glue)?;
    // The compiler needs the glue beside the sources, the package beside what comes of them.
    let [(fast, _), _] = MODULES;
    for file in ["glue.js", "glue.d.ts"] {
        let from = glue.join(fast).join(file);
        let to = folder.join("js").join(file);
        fs::copy(&from, &to).map_err(fault(&from))?;
    }
    run(&mut npm(
        &folder,
        ["exec", "--", "tsc", "--project", "tsconfig.json"],
    ))?;
    let from = folder.join("js/glue.js");
    fs::copy(&from, out.join("glue.js")).map_err(fault(&from))?;
    write_schemas(&out, &schemas["documents"])?;
    run(&mut node(&folder, ["tests/sizes.mjs"]))?;
    pack(&folder, &target)
}

/// Writes the TypeScript types anew.
///
/// # Errors
/// When a type cannot be told in TypeScript.
pub fn write_types() -> Result {
    let path = folder().join(TYPES);
    fs::write(&path, types_of(&schemas()?)?).map_err(fault(&path))
}

/// The schemas of all that goes in and out.
fn schemas() -> Result<Value> {
    let words = [
        "run",
        "--quiet",
        "--package",
        "oddment-wasm",
        "--example",
        "schemas",
    ];
    let text = capture(&mut cargo(words))?;
    serde_json::from_str(&text).map_err(|error| format!("the schemas: {error}"))
}

fn types_of(schemas: &Value) -> Result<String> {
    typescript::types(schemas["types"].as_array().ok_or("no types")?)
}

fn check_types(schemas: &Value) -> Result {
    let path = folder().join(TYPES);
    let kept = fs::read_to_string(&path).map_err(fault(&path))?;
    if kept == types_of(schemas)? {
        return Ok(());
    }
    Err(format!(
        "bindings/wasm/{TYPES} is out of date: `cargo xtask wasm --types` writes it anew"
    ))
}

/// Compiles the engine with some flags and writes the glue for it.
fn compile(target: &Path, glue: &Path, name: &str, flags: &str) -> Result {
    // Folders of their own, so that neither undoes the other's work.
    let own = target.join("wasm").join(name);
    let words = [
        "build",
        "--profile",
        "wasm",
        "--package",
        "oddment-wasm",
        "--lib",
        "--target",
    ];
    let mut build = cargo(words);
    build.arg(TARGET).arg("--target-dir").arg(&own);
    // Flags from elsewhere would make another module.
    build
        .env_remove("CARGO_ENCODED_RUSTFLAGS")
        .env("RUSTFLAGS", flags);
    run(&mut build)?;
    let module = own.join(TARGET).join("wasm/oddment_wasm.wasm");
    let said = |error| format!("wasm-bindgen: {error}");
    let mut bindgen = Bindgen::new();
    bindgen.input_path(&module).out_name("glue");
    bindgen.web(true).map_err(said)?;
    bindgen
        .typescript(true)
        .remove_name_section(true)
        .remove_producers_section(true)
        .omit_default_module_path(true)
        .reset_state_function(true)
        .generate(glue.join(name))
        .map_err(said)
}

/// The same JavaScript has to serve both modules.
fn same_glue(glue: &Path) -> Result {
    let [one, other] = MODULES.map(|(name, _)| glue.join(name).join("glue.js"));
    let read = |path: &Path| fs::read(path).map_err(fault(path));
    if read(&one)? == read(&other)? {
        Ok(())
    } else {
        Err("the glue of the two modules differs".to_owned())
    }
}

fn optimise(folder: &Path, module: &Path, out: &Path) -> Result {
    let out = out.with_extension("wasm");
    let mut command = node(folder, ["node_modules/binaryen/bin/wasm-opt", "-O2"]);
    command.args(FEATURES);
    // The base module must stay without what it is there to do without.
    if out.file_stem() == Some(MODULES[0].0.as_ref()) {
        command.arg("--enable-simd");
    }
    run(command.arg(module).arg("-o").arg(&out))
}

/// The schemas as a script.
fn write_schemas(out: &Path, documents: &Value) -> Result {
    let names = documents.as_object().ok_or("no documents")?;
    let names: Vec<String> = names.keys().map(|name| format!("{name:?}")).collect();
    let script = format!(
        "/** JSON Schemas (draft 2020-12) of what goes in and comes out. */\nexport const schemas = {documents};\n"
    );
    let types = format!(
        "/** Which document. */\nexport type DocumentName = {};\n/** JSON Schemas (draft 2020-12) of what \
         goes in and comes out. */\nexport declare const schemas: Readonly<Record<DocumentName, Readonly<Record<string, \
         unknown>>>>;\n",
        names.join(" | ")
    );
    for (name, text) in [("schemas.js", script), ("schemas.d.ts", types)] {
        let path = out.join(name);
        fs::write(&path, text).map_err(fault(&path))?;
    }
    Ok(())
}

fn pack(folder: &Path, target: &Path) -> Result<Packed> {
    let to = target.join("npm");
    fs::create_dir_all(&to).map_err(fault(&to))?;
    let mut command = npm(folder, ["pack", "--json", "--pack-destination"]);
    let told = capture(command.arg(&to))?;
    let told: Value = serde_json::from_str(&told).map_err(|error| format!("npm pack: {error}"))?;
    let name = told[0]["filename"]
        .as_str()
        .ok_or("npm pack names no file")?;
    let tarball = to.join(name);
    println!("packed {}", crate::tools::relative(&tarball));
    Ok(Packed { tarball })
}
