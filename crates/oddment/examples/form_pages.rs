//! Prints the pages of all forms that come with the crate, and their index: one JSON object of file
//! names and contents. `cargo xtask pages` compares or writes them.

use oddment::form_page::{form_index, form_page};
use oddment::{Error, Pack, packs};

fn main() -> Result<(), Error> {
    let all: Vec<Pack> = packs::forms().map(packs::load).collect::<Result<_, _>>()?;
    let mut files = serde_json::Map::new();
    files.insert("README.md".to_owned(), form_index(&all).into());
    for pack in &all {
        files.insert(format!("{}.md", pack.id), form_page(pack).into());
    }
    println!("{}", serde_json::Value::Object(files));
    Ok(())
}
