//! The package for JavaScript, unpacked from its tarball.

use crate::Result;
use crate::tools::fault;
use flate2::read::GzDecoder;
use std::fs::{self, File};
use std::io::Read;
use std::path::{Component, Path};
use tar::{Archive, EntryType};

/// The folder inside every tarball of npm.
const INSIDE: &str = "package";

/// Unpacks a tarball of npm so that `folder` holds the package, and nothing of what it held before.
///
/// # Errors
/// When the tarball cannot be read or holds what a package does not; `folder` then stays as it was.
pub fn unpack(tarball: &Path, folder: &Path) -> Result {
    let file = File::open(tarball).map_err(fault(tarball))?;
    let aside = folder.with_extension("part");
    remove(&aside)?;
    fs::create_dir_all(&aside).map_err(fault(&aside))?;
    let unpacked = extract(file, &aside);
    unpacked.map_err(|error| format!("{}: {error}", tarball.display()))?;
    remove(folder)?;
    let inside = aside.join(INSIDE);
    fs::rename(&inside, folder).map_err(fault(&inside))?;
    remove(&aside)
}

fn remove(folder: &Path) -> Result {
    if folder.exists() {
        fs::remove_dir_all(folder).map_err(fault(folder))?;
    }
    Ok(())
}

fn extract(tarball: impl Read, to: &Path) -> Result {
    let said = |error: std::io::Error| error.to_string();
    let mut archive = Archive::new(GzDecoder::new(tarball));
    // npm gives every file one and the same old date; those who watch the files want to see a change.
    archive.set_preserve_mtime(false);
    let mut files = 0;
    for entry in archive.entries().map_err(said)? {
        let mut entry = entry.map_err(said)?;
        let path = entry.path().map_err(said)?.into_owned();
        let mut parts = path.components();
        let inside = parts.next() == Some(Component::Normal(INSIDE.as_ref()))
            && parts.all(|part| matches!(part, Component::Normal(_)));
        if !inside {
            let path = path.display();
            return Err(format!("`{path}` does not lie in `{INSIDE}`"));
        }
        match entry.header().entry_type() {
            EntryType::Regular => files += 1,
            EntryType::Directory => {}
            // npm packs no links, and one could lead out of the folder.
            kind => return Err(format!("`{}` is no file: {kind:?}", path.display())),
        }
        if !entry.unpack_in(to).map_err(said)? {
            return Err(format!("`{}` leads out of the folder", path.display()));
        }
    }
    if files == 0 {
        return Err("no file in it".into());
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use flate2::{Compression, write::GzEncoder};
    use std::path::PathBuf;
    use tar::{Builder, Header};

    /// A tarball of these entries; the names are written as they are, sound or not.
    fn packed(entries: &[(&str, EntryType, &str)]) -> Vec<u8> {
        let mut builder = Builder::new(GzEncoder::new(Vec::new(), Compression::fast()));
        for (name, kind, text) in entries {
            let mut header = Header::new_gnu();
            header.as_old_mut().name[..name.len()].copy_from_slice(name.as_bytes());
            header.set_entry_type(*kind);
            header.set_mode(0o644);
            if kind.is_file() {
                header.set_size(text.len() as u64);
            } else {
                header.set_size(0);
                header.set_link_name(text).unwrap();
            }
            header.set_cksum();
            let data = if kind.is_file() { text } else { "" };
            builder.append(&header, data.as_bytes()).unwrap();
        }
        builder.into_inner().unwrap().finish().unwrap()
    }

    struct Place(PathBuf);

    impl Drop for Place {
        fn drop(&mut self) {
            let _ = fs::remove_dir_all(&self.0);
        }
    }

    /// A folder of the test's own with an older package in it.
    fn place(name: &str) -> Place {
        let own = format!("oddment-unpack-{name}-{}", std::process::id());
        let place = Place(std::env::temp_dir().join(own));
        fs::create_dir_all(place.0.join("package")).unwrap();
        fs::write(place.0.join("package/old.js"), "old").unwrap();
        place
    }

    fn unpack_in(place: &Place, bytes: &[u8]) -> Result {
        let tarball = place.0.join("some.tgz");
        fs::write(&tarball, bytes).unwrap();
        unpack(&tarball, &place.0.join("package"))
    }

    #[test]
    fn a_package_takes_the_place_of_the_one_before() {
        let place = place("replaced");
        let bytes = packed(&[
            ("package/package.json", EntryType::Regular, "{}"),
            ("package/dist/index.js", EntryType::Regular, "new"),
        ]);
        for _ in 0..2 {
            unpack_in(&place, &bytes).unwrap();
            let read = |name: &str| fs::read_to_string(place.0.join("package").join(name));
            assert_eq!(read("package.json").unwrap(), "{}");
            assert_eq!(read("dist/index.js").unwrap(), "new");
            assert!(read("old.js").is_err());
            assert!(!place.0.join("package.part").exists());
        }
    }

    #[test]
    fn what_leads_out_is_refused_and_nothing_is_replaced() {
        let place = place("refused");
        let outside = place.0.join("outside.js");
        for (name, kind, text) in [
            ("package/../../outside.js", EntryType::Regular, "x"),
            ("../outside.js", EntryType::Regular, "x"),
            ("outside.js", EntryType::Regular, "x"),
            ("/package/outside.js", EntryType::Regular, "x"),
            ("./package/outside.js", EntryType::Regular, "x"),
            ("package/link", EntryType::Symlink, "../.."),
            ("package/link", EntryType::Link, "package/package.json"),
        ] {
            let sound = ("package/package.json", EntryType::Regular, "{}");
            let refused = unpack_in(&place, &packed(&[sound, (name, kind, text)]));
            assert!(refused.is_err_and(|error| error.contains(name)), "{name}");
            assert!(!outside.exists(), "{name}");
            assert!(place.0.join("package/old.js").exists(), "{name}");
        }
    }

    #[test]
    fn what_is_no_tarball_is_refused() {
        let place = place("broken");
        assert!(unpack_in(&place, b"no tarball").is_err());
        assert!(unpack_in(&place, &packed(&[])).is_err());
        assert!(place.0.join("package/old.js").exists());
    }
}
