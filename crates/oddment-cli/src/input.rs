//! Reading what users wrote, and finding the pack for it.

use crate::arguments::{FormChoice, PackChoice};
use crate::failure::Failure;
use oddment::{Case, MAX_TEXT_BYTES, Pack, Text, packs};
use std::fs::File;
use std::io::Read;
use std::path::Path;

/// A text with the name shown in errors.
#[derive(Debug)]
pub(crate) struct Source {
    pub name: String,
    pub content: String,
}

impl Source {
    /// Reads a file; `-` stands for standard input.
    pub fn read_or_input(path: &Path) -> Result<Self, Failure> {
        if path.as_os_str() == "-" {
            Self::take("standard input".to_owned(), std::io::stdin().lock())
        } else {
            Self::read(path)
        }
    }

    /// Reads a file.
    pub fn read(path: &Path) -> Result<Self, Failure> {
        let name = path.display().to_string();
        match File::open(path) {
            Ok(file) => Self::take(name, file),
            Err(error) => Err(Failure::read(&name, &error)),
        }
    }

    /// Reads no more than the library would take, so that an endless input ends.
    fn take(name: String, input: impl Read) -> Result<Self, Failure> {
        let mut bytes = Vec::new();
        let limit = MAX_TEXT_BYTES as u64 + 1;
        if let Err(error) = input.take(limit).read_to_end(&mut bytes) {
            return Err(Failure::read(&name, &error));
        }
        if bytes.len() > MAX_TEXT_BYTES {
            let message = format!("has more than {MAX_TEXT_BYTES} bytes, the most allowed");
            return Err(Failure::unreadable(&name, message));
        }
        match String::from_utf8(bytes) {
            Ok(content) => {
                // Some editors put a byte-order mark in front.
                let content = content
                    .strip_prefix('\u{feff}')
                    .map(str::to_owned)
                    .unwrap_or(content);
                Ok(Self { name, content })
            }
            Err(error) => {
                let valid = error.utf8_error().valid_up_to();
                let line = error.as_bytes()[..valid]
                    .split(|byte| *byte == b'\n')
                    .count();
                let message = format!("is not UTF-8 text at line {line}; save it as UTF-8");
                Err(Failure::unreadable(&name, message))
            }
        }
    }

    /// As the library takes it.
    pub fn text(&self) -> Text<'_> {
        Text::new(&self.name, &self.content)
    }

    /// Something that comes with the library.
    fn embedded(text: Text<'_>) -> Self {
        Self {
            name: text.name.to_owned(),
            content: text.content.to_owned(),
        }
    }
}

/// Loads a pack, or an extension of one, with a library, or the library that comes with the command.
pub(crate) fn load_pack(pack: &Source, library: Option<&Path>) -> Result<Pack, Failure> {
    let library = self::library(library)?;
    packs::compose(pack.text(), library.text())
        .map_err(|error| Failure::engine(&error, &[pack, &library]))
}

impl PackChoice {
    /// Reads a case and the pack for its form.
    pub fn load_case(&self, path: &Path) -> Result<(Pack, Case), Failure> {
        let source = Source::read_or_input(path)?;
        self.load_case_from(&source)
    }

    /// Checks a case that has been read already.
    pub fn load_case_from(&self, source: &Source) -> Result<(Pack, Case), Failure> {
        let refuse = |error| Failure::engine(&error, &[source]);
        let pack = match &self.pack {
            Some(path) => Source::read(path)?,
            None => Source::embedded(packs::text_for(source.text()).map_err(refuse)?),
        };
        let pack = load_pack(&pack, self.library.as_deref())?;
        let case = Case::load(source.text(), &pack).map_err(refuse)?;
        Ok((pack, case))
    }

    /// The library that packs are composed with.
    pub fn library(&self) -> Result<Source, Failure> {
        library(self.library.as_deref())
    }
}

fn library(path: Option<&Path>) -> Result<Source, Failure> {
    match path {
        Some(path) => Source::read(path),
        None => Ok(Source::embedded(packs::library())),
    }
}

impl FormChoice {
    /// The pack for the form, or the pack given.
    pub fn load(&self) -> Result<Pack, Failure> {
        let pack = match (&self.pack.pack, &self.form) {
            (Some(path), _) => Source::read(path)?,
            (None, form) => {
                let form = form.as_deref().unwrap_or_default();
                let text = packs::text(form).map_err(|error| Failure::engine(&error, &[]))?;
                Source::embedded(text)
            }
        };
        load_pack(&pack, self.pack.library.as_deref())
    }
}
