//! The files of a site, read and compressed once, and what is answered when one is asked for.

use crate::Result;
use crate::tools::fault;
use brotli::enc::BrotliEncoderParams;
use flate2::{Compression, write::GzEncoder};
use percent_encoding::percent_decode_str;
use sha2::{Digest, Sha256};
use std::collections::BTreeMap;
use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex};

/// How hard Brotli tries: as hard as it can. A large module takes some seconds, once at the start.
const BROTLI_QUALITY: i32 = 11;

/// The size of Brotli's window, as a power of two: the largest that every browser takes.
const BROTLI_WINDOW: i32 = 22;

/// For names that change with what is in the file.
const FOR_EVER: &str = "public, max-age=31536000, immutable";

/// For all else: kept, but asked about each time.
const ASK_AGAIN: &str = "no-cache";

const PLAIN_TEXT: &str = "text/plain; charset=utf-8";

/// Bytes shared between answers.
pub type Body = Arc<[u8]>;

/// All files by their paths below the site's address, without the first slash.
#[derive(Debug)]
pub struct Site {
    files: BTreeMap<String, File>,
}

#[derive(Debug)]
struct File {
    kind: &'static str,
    caching: &'static str,
    digest: String,
    plain: Body,
    /// The same compressed, best first; none where that gains nothing.
    compressed: Vec<(Coding, Body)>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Coding {
    Brotli,
    Gzip,
}

impl Coding {
    fn name(self) -> &'static str {
        match self {
            Self::Brotli => "br",
            Self::Gzip => "gzip",
        }
    }
}

/// What a request says that matters here.
#[derive(Debug, Default, Clone, Copy)]
pub struct Question<'a> {
    /// The method, in capitals.
    pub method: &'a str,
    /// Path and query as they came.
    pub target: &'a str,
    /// The header `Accept-Encoding`.
    pub accept_encoding: &'a str,
    /// The header `If-None-Match`.
    pub if_none_match: &'a str,
}

/// What is answered. The body is there whether or not it is to be sent, for its length is told.
#[derive(Debug)]
pub struct Answer {
    /// The status.
    pub status: u16,
    /// Headers that belong to this answer only.
    pub headers: Vec<(&'static str, String)>,
    /// What was asked for.
    pub body: Body,
}

impl Site {
    /// Reads and compresses all files of a folder.
    ///
    /// # Errors
    /// When something cannot be read or is no file, or there is no front page.
    pub fn read(folder: &Path) -> Result<Self> {
        let mut paths = Vec::new();
        walk(folder, "", &mut paths)?;
        let queue = Mutex::new(paths.into_iter());
        let next = || queue.lock().ok()?.next();
        let work = || {
            let mut done = Vec::new();
            while let Some((name, path)) = next() {
                let bytes = fs::read(&path).map_err(fault(&path))?;
                let file = File::new(&name, bytes).map_err(fault(&path))?;
                done.push((name, file));
            }
            Ok(done)
        };
        let threads = std::thread::available_parallelism().map_or(1, usize::from);
        let done: Result<Vec<Vec<(String, File)>>> = std::thread::scope(|scope| {
            let workers: Vec<_> = (0..threads).map(|_| scope.spawn(work)).collect();
            let broken = |_| Err("reading the site broke off".to_owned());
            workers
                .into_iter()
                .map(|worker| worker.join().unwrap_or_else(broken))
                .collect()
        });
        let files: BTreeMap<String, File> = done?.into_iter().flatten().collect();
        if files.contains_key("index.html") {
            Ok(Self { files })
        } else {
            Err(format!("{} holds no index.html", folder.display()))
        }
    }

    /// How many files there are.
    pub fn len(&self) -> usize {
        self.files.len()
    }

    /// Answers one request.
    pub fn answer(&self, question: &Question) -> Answer {
        if !matches!(question.method, "GET" | "HEAD") {
            let mut refused = Answer::error(405, "only GET and HEAD are answered here\n");
            refused.headers.push(("Allow", "GET, HEAD".to_owned()));
            return refused;
        }
        match self.find(question.target) {
            Some(file) => file.answer(question),
            None => Answer::error(404, "there is nothing at this address\n"),
        }
    }

    /// The file of an address. It is only looked for among the names found at the start, never in the
    /// file system, so that no spelling of a path leads out of the folder.
    fn find(&self, target: &str) -> Option<&File> {
        let path = target.split(['?', '#']).next()?.strip_prefix('/')?;
        let path = percent_decode_str(path).decode_utf8().ok()?;
        if path.is_empty() || path.ends_with('/') {
            return self.files.get(&format!("{path}index.html"));
        }
        self.files.get(&*path)
    }
}

impl File {
    fn new(name: &str, bytes: Vec<u8>) -> std::io::Result<Self> {
        let (kind, compressible) = kind(name);
        let mut compressed = Vec::new();
        if compressible {
            for (coding, body) in [
                (Coding::Brotli, brotli(&bytes)?),
                (Coding::Gzip, gzip(&bytes)?),
            ] {
                if body.len() < bytes.len() {
                    compressed.push((coding, body.into()));
                }
            }
        }
        let digest = Sha256::digest(&bytes);
        let digest = digest[..16].iter().map(|byte| format!("{byte:02x}"));
        Ok(Self {
            kind,
            caching: caching(name),
            digest: digest.collect(),
            plain: bytes.into(),
            compressed,
        })
    }

    fn answer(&self, question: &Question) -> Answer {
        let chosen = self.choose(question.accept_encoding);
        let tag = match chosen {
            Some((coding, _)) => format!("\"{}-{}\"", self.digest, coding.name()),
            None => format!("\"{}\"", self.digest),
        };
        let body = chosen.map_or(&self.plain, |(_, body)| body);
        let known = matches(question.if_none_match, &tag);
        let mut headers = vec![("ETag", tag), ("Cache-Control", self.caching.to_owned())];
        if !self.compressed.is_empty() {
            headers.push(("Vary", "Accept-Encoding".to_owned()));
        }
        if !known {
            headers.push(("Content-Type", self.kind.to_owned()));
            if let Some((coding, _)) = chosen {
                headers.push(("Content-Encoding", coding.name().to_owned()));
            }
        }
        Answer {
            status: if known { 304 } else { 200 },
            headers,
            body: Arc::clone(body),
        }
    }

    /// What the client likes best of what is there; `None` is the file as it is, which is sent even to
    /// those who say that they take nothing else.
    fn choose(&self, accepted: &str) -> Option<&(Coding, Body)> {
        let plain = weight(accepted, "identity").unwrap_or(0.0);
        let mut best = (None, plain);
        for candidate in &self.compressed {
            let weight = weight(accepted, candidate.0.name()).unwrap_or(0.0);
            let better = match best.0 {
                // Of two that are liked as much, the smaller.
                None => weight > 0.0 && weight >= best.1,
                Some(_) => weight > best.1,
            };
            if better {
                best = (Some(candidate), weight);
            }
        }
        best.0
    }
}

impl Answer {
    /// An answer that refuses, in words.
    pub fn error(status: u16, text: &str) -> Self {
        let headers = vec![
            ("Content-Type", PLAIN_TEXT.to_owned()),
            ("Cache-Control", ASK_AGAIN.to_owned()),
        ];
        Self {
            status,
            headers,
            body: text.as_bytes().into(),
        }
    }
}

/// How much a coding is liked by `Accept-Encoding`, from 0 to 1; `None` where nothing is said of it.
fn weight(accepted: &str, coding: &str) -> Option<f32> {
    let mut any = None;
    for part in accepted.split(',') {
        let mut words = part.split(';').map(str::trim);
        let name = words.next().unwrap_or_default();
        let mut weight = 1.0;
        for word in words {
            if let Some(told) = word.strip_prefix("q=").or(word.strip_prefix("Q=")) {
                let told: f32 = told.parse().unwrap_or(0.0);
                weight = if (0.0..=1.0).contains(&told) {
                    told
                } else {
                    0.0
                };
            }
        }
        if name.eq_ignore_ascii_case(coding) {
            return Some(weight);
        }
        if name == "*" {
            any = Some(weight);
        }
    }
    any
}

/// Whether `If-None-Match` names a tag.
fn matches(told: &str, tag: &str) -> bool {
    told.split(',')
        .map(str::trim)
        .any(|told| told == "*" || told.strip_prefix("W/").unwrap_or(told) == tag)
}

/// The media type of a file, and whether it is worth compressing.
fn kind(name: &str) -> (&'static str, bool) {
    let ending = name.rsplit_once('.').map_or("", |(_, ending)| ending);
    match ending.to_ascii_lowercase().as_str() {
        "html" => ("text/html; charset=utf-8", true),
        "js" | "mjs" => ("text/javascript; charset=utf-8", true),
        "css" => ("text/css; charset=utf-8", true),
        "svg" => ("image/svg+xml", true),
        "json" | "map" => ("application/json", true),
        "webmanifest" => ("application/manifest+json", true),
        "wasm" => ("application/wasm", true),
        "txt" => (PLAIN_TEXT, true),
        "png" => ("image/png", false),
        "ico" => ("image/x-icon", false),
        "woff2" => ("font/woff2", false),
        _ => ("application/octet-stream", false),
    }
}

/// How long a file may be kept. Vite names what it puts into `assets` after the content.
fn caching(name: &str) -> &'static str {
    let hashed = name.strip_prefix("assets/").is_some_and(|rest| {
        let stem = rest.rsplit_once('.').map_or(rest, |(stem, _)| stem);
        let Some((before, hash)) = stem.split_at_checked(stem.len().saturating_sub(8)) else {
            return false;
        };
        let letters = |letter: char| letter.is_ascii_alphanumeric() || "-_".contains(letter);
        // An English word is no hash.
        let odd = |letter: char| letter.is_ascii_digit() || letter.is_ascii_uppercase();
        before.ends_with('-') && hash.chars().all(letters) && hash.chars().any(odd)
    });
    if hashed { FOR_EVER } else { ASK_AGAIN }
}

fn brotli(bytes: &[u8]) -> std::io::Result<Vec<u8>> {
    let mut compressed = Vec::new();
    let parameters = BrotliEncoderParams {
        quality: BROTLI_QUALITY,
        lgwin: BROTLI_WINDOW,
        size_hint: bytes.len(),
        ..BrotliEncoderParams::default()
    };
    brotli::BrotliCompress(&mut &*bytes, &mut compressed, &parameters)?;
    Ok(compressed)
}

fn gzip(bytes: &[u8]) -> std::io::Result<Vec<u8>> {
    let mut encoder = GzEncoder::new(Vec::new(), Compression::best());
    encoder.write_all(bytes)?;
    encoder.finish()
}

/// All files below a folder with their names below the site's address.
fn walk(folder: &Path, above: &str, paths: &mut Vec<(String, PathBuf)>) -> Result {
    for entry in fs::read_dir(folder).map_err(fault(folder))? {
        let entry = entry.map_err(fault(folder))?;
        let path = entry.path();
        let name = entry.file_name().into_string();
        let name = name.map_err(|_| format!("{}: a name that is not Unicode", path.display()))?;
        let name = format!("{above}{name}");
        let kind = entry.file_type().map_err(fault(&path))?;
        if kind.is_dir() {
            walk(&path, &format!("{name}/"), paths)?;
        } else if kind.is_file() {
            paths.push((name, path));
        } else {
            // A link might lead anywhere.
            return Err(format!("{}: neither file nor folder", path.display()));
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn file(name: &str, bytes: &[u8]) -> File {
        File::new(name, bytes.to_vec()).unwrap()
    }

    fn chosen(accepted: &str) -> &'static str {
        let file = file("a.txt", &[b'a'; 1000]);
        let chosen = file.choose(accepted);
        chosen.map_or("identity", |(coding, _)| coding.name())
    }

    #[test]
    fn the_best_compression_that_is_accepted_is_chosen() {
        for (accepted, want) in [
            ("", "identity"),
            ("gzip, deflate, br, zstd", "br"),
            ("gzip, deflate", "gzip"),
            ("GZIP", "gzip"),
            ("br;q=0.5, gzip;q=0.8", "gzip"),
            ("br; q=0.5 , gzip; q=0.5", "br"),
            ("br;q=0, gzip", "gzip"),
            ("br;q=0, gzip;q=0.000", "identity"),
            ("gzip;q=0.1, identity;q=0.9", "identity"),
            ("gzip, identity", "gzip"),
            ("*", "br"),
            ("*;q=0.3, br;q=0", "gzip"),
            ("*;q=0", "identity"),
            ("identity;q=0", "identity"),
            ("br;q=2, gzip;q=nan", "identity"),
            ("zstd", "identity"),
            (";;,,q=", "identity"),
        ] {
            assert_eq!(chosen(accepted), want, "{accepted}");
        }
    }

    #[test]
    fn what_compression_does_not_make_smaller_is_sent_as_it_is() {
        for file in [
            file("empty.js", b""),
            file("short.txt", b"a"),
            file("picture.png", &[0; 1000]),
        ] {
            assert!(file.compressed.is_empty());
        }
    }

    #[test]
    fn both_compressions_open_to_the_same_bytes() {
        use std::io::Read;
        let text = "a table, a chair, a looking-glass\n".repeat(500);
        let file = file("a.txt", text.as_bytes());
        let [(Coding::Brotli, brotli), (Coding::Gzip, gzip)] = file.compressed.as_slice() else {
            panic!("not two compressions: {:?}", file.compressed.len());
        };
        let mut opened = Vec::new();
        brotli::BrotliDecompress(&mut &brotli[..], &mut opened).unwrap();
        assert_eq!(opened, text.as_bytes());
        opened.clear();
        let mut decoder = flate2::read::GzDecoder::new(&gzip[..]);
        decoder.read_to_end(&mut opened).unwrap();
        assert_eq!(opened, text.as_bytes());
    }

    #[test]
    fn only_names_with_a_hash_are_kept_for_ever() {
        for name in [
            "assets/index-B1x2C3d4.js",
            "assets/oddment-base-a_-4Zz09.wasm",
        ] {
            assert_eq!(caching(name), FOR_EVER, "{name}");
        }
        for name in [
            "index.html",
            "index-B1x2C3d4.js",
            "assets/index.js",
            "assets/chair-original.svg",
            "assets/B1x2C3d4.js",
            "assets/stühle-üüüü.js",
            "sw.js",
        ] {
            assert_eq!(caching(name), ASK_AGAIN, "{name}");
        }
    }

    #[test]
    fn a_tag_is_found_in_a_list_and_when_weak() {
        for told in ["\"a\"", "W/\"a\"", "\"b\", \"a\"", "*"] {
            assert!(matches(told, "\"a\""), "{told}");
        }
        for told in ["", "\"b\"", "a", "\"A\"", "\"a-br\""] {
            assert!(!matches(told, "\"a\""), "{told}");
        }
    }
}
