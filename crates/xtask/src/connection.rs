//! One connection to a browser: requests read, answers written, until either side has enough.

use crate::content::{Answer, Question, Site};
use httparse::{EMPTY_HEADER, Header, Status};
use std::io::{Read, Result, Write};
use std::net::{Shutdown, TcpStream};
use std::time::{Duration, SystemTime};

/// What the page may load and do: only what comes from this address, and WebAssembly.
pub const POLICY: &str = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; \
                          img-src 'self' data: blob:; font-src 'self'; connect-src 'self'; worker-src 'self'; \
                          manifest-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

/// What every answer says.
pub const ALWAYS: [(&str, &str); 6] = [
    ("Content-Security-Policy", POLICY),
    ("X-Content-Type-Options", "nosniff"),
    ("Referrer-Policy", "no-referrer"),
    ("Cross-Origin-Opener-Policy", "same-origin"),
    ("Cross-Origin-Resource-Policy", "same-origin"),
    (
        "Permissions-Policy",
        "camera=(), microphone=(), geolocation=()",
    ),
];

/// How long either side may keep the other waiting.
const PATIENCE: Duration = Duration::from_secs(30);

/// The most bytes and headers of a request.
const MOST_BYTES: usize = 16 << 10;
const MOST_HEADERS: usize = 100;

/// What is known of a request before the answer is looked for.
enum Request {
    /// Its end is still to come.
    Partial,
    /// How long it is, the answer, whether to send its body, and whether another request may follow.
    Answered(usize, Answer, bool, bool),
}

/// Answers what comes until the connection ends.
///
/// # Errors
/// When it breaks off.
pub fn converse(mut stream: &TcpStream, site: &Site) -> Result<()> {
    stream.set_read_timeout(Some(PATIENCE))?;
    stream.set_write_timeout(Some(PATIENCE))?;
    // Answers are written whole; waiting to fill a packet would only delay them.
    stream.set_nodelay(true)?;
    let mut pending = Vec::new();
    loop {
        match read(&pending, site) {
            Request::Partial => {
                let mut bytes = [0; 4096];
                match stream.read(&mut bytes)? {
                    0 => return Ok(()),
                    count => pending.extend_from_slice(&bytes[..count]),
                }
            }
            Request::Answered(length, answer, with_body, more) => {
                write(stream, &answer, with_body, more)?;
                if !more {
                    return finish(stream);
                }
                pending.drain(..length);
            }
        }
    }
}

/// Reads a request and answers it.
fn read(bytes: &[u8], site: &Site) -> Request {
    let refused = |status, text| Request::Answered(0, Answer::error(status, text), true, false);
    let mut headers = [EMPTY_HEADER; MOST_HEADERS];
    let mut request = httparse::Request::new(&mut headers);
    let length = match request.parse(bytes) {
        Ok(Status::Complete(length)) if length <= MOST_BYTES => length,
        Ok(Status::Partial) if bytes.len() < MOST_BYTES => return Request::Partial,
        Ok(_) | Err(httparse::Error::TooManyHeaders) => {
            return refused(431, "the request is too long\n");
        }
        Err(error) => return refused(400, &format!("this is not HTTP/1.1: {error}\n")),
    };
    let (Some(method), Some(target)) = (request.method, request.path) else {
        return refused(400, "the request has no method or no address\n");
    };
    let newer = request.version == Some(1);
    let told = |name| values(request.headers, name);
    if newer && told("Host").is_empty() {
        return refused(400, "the request names no host\n");
    }
    let connection = told("Connection").to_ascii_lowercase();
    let says = |word: &str| connection.split(',').any(|said| said.trim() == word);
    // Nothing here takes a body, and what follows one that is left unread is no request.
    let body = !matches!(told("Content-Length").as_str(), "" | "0")
        || !told("Transfer-Encoding").is_empty();
    let more = !body && !says("close") && (newer || says("keep-alive"));
    let answer = site.answer(&Question {
        method,
        target,
        accept_encoding: &told("Accept-Encoding"),
        if_none_match: &told("If-None-Match"),
    });
    let with_body = method != "HEAD" && answer.status != 304;
    Request::Answered(length, answer, with_body, more)
}

/// All that is said under one name, as one list.
fn values(headers: &[Header], name: &str) -> String {
    let named = headers
        .iter()
        .filter(|header| header.name.eq_ignore_ascii_case(name));
    let values: Vec<_> = named
        .map(|header| String::from_utf8_lossy(header.value))
        .collect();
    values.join(", ")
}

fn write(mut stream: &TcpStream, answer: &Answer, with_body: bool, more: bool) -> Result<()> {
    let reason = match answer.status {
        200 => "OK",
        304 => "Not Modified",
        404 => "Not Found",
        405 => "Method Not Allowed",
        431 => "Request Header Fields Too Large",
        _ => "Bad Request",
    };
    let mut head = format!("HTTP/1.1 {} {reason}\r\n", answer.status);
    let mut tell = |name: &str, value: &str| {
        head.extend([name, ": ", value, "\r\n"]);
    };
    tell("Date", &httpdate::fmt_http_date(SystemTime::now()));
    tell("Content-Length", &answer.body.len().to_string());
    tell("Connection", if more { "keep-alive" } else { "close" });
    for (name, value) in ALWAYS {
        tell(name, value);
    }
    for (name, value) in &answer.headers {
        tell(name, value);
    }
    head.push_str("\r\n");
    stream.write_all(head.as_bytes())?;
    if with_body {
        stream.write_all(&answer.body)?;
    }
    Ok(())
}

/// Ends a connection so that the answer arrives although not all was read: closing at once would
/// take it back.
fn finish(mut stream: &TcpStream) -> Result<()> {
    const MOST_UNREAD: usize = 1 << 20;
    stream.shutdown(Shutdown::Write)?;
    stream.set_read_timeout(Some(Duration::from_secs(1)))?;
    let mut unread = 0;
    let mut bytes = [0; 4096];
    while unread < MOST_UNREAD {
        match stream.read(&mut bytes)? {
            0 => break,
            count => unread += count,
        }
    }
    Ok(())
}
