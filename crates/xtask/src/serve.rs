//! A site served on this machine only, as a careful host would serve it.

use crate::Result;
use crate::connection::converse;
use crate::content::Site;
use std::io::ErrorKind;
use std::net::{Ipv4Addr, Shutdown, SocketAddr, TcpListener, TcpStream};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, PoisonError, Weak};
use std::thread::{Builder, JoinHandle};
use std::time::Duration;

/// The port unless one is named, and how many are tried from there.
const PORT: u16 = 8470;
const TRIED: u16 = 20;

/// A port of this machine's own address: the named one (0 for any that is free), or else the usual one
/// or the next that is free.
///
/// # Errors
/// When there is none.
pub fn listen(named: Option<u16>) -> Result<TcpListener> {
    let ports = match named {
        Some(port) => port..=port,
        None => PORT..=PORT + TRIED - 1,
    };
    for port in ports.clone() {
        match TcpListener::bind((Ipv4Addr::LOCALHOST, port)) {
            Ok(listener) => return Ok(listener),
            Err(error) if error.kind() == ErrorKind::AddrInUse => {}
            Err(error) => return Err(format!("port {port}: {error}")),
        }
    }
    Err(match named {
        Some(port) => format!("port {port} is taken; name a free one with --port"),
        None => format!(
            "the ports {} to {} are taken; name a free one with --port",
            ports.start(),
            ports.end()
        ),
    })
}

/// A server at work; it ends when dropped.
pub struct Server {
    address: SocketAddr,
    shared: Arc<Shared>,
    accepting: Option<JoinHandle<()>>,
}

struct Shared {
    site: Site,
    /// The connections, of which some may have ended.
    open: Mutex<Vec<Weak<TcpStream>>>,
    stopping: AtomicBool,
}

impl Server {
    /// Starts to serve.
    ///
    /// # Errors
    /// When there is no listening on what is given.
    pub fn start(listener: TcpListener, site: Site) -> Result<Self> {
        let failed = |error: std::io::Error| format!("the server cannot start: {error}");
        let address = listener.local_addr().map_err(failed)?;
        let shared = Arc::new(Shared {
            site,
            open: Mutex::default(),
            stopping: AtomicBool::new(false),
        });
        let accepting = Arc::clone(&shared);
        let accepting = Builder::new()
            .name("server".into())
            .spawn(move || accepting.accept(&listener))
            .map_err(failed)?;
        Ok(Self {
            address,
            shared,
            accepting: Some(accepting),
        })
    }

    /// Where the site is, without a slash at the end.
    pub fn origin(&self) -> String {
        format!("http://{}", self.address)
    }

    /// Serves for as long as this process runs.
    ///
    /// # Errors
    /// When the server breaks off.
    pub fn wait(mut self) -> Result {
        let broken = |_| "the server broke off".to_owned();
        self.accepting
            .take()
            .map_or(Ok(()), |accepting| accepting.join().map_err(broken))
    }
}

impl Drop for Server {
    fn drop(&mut self) {
        self.shared.stopping.store(true, Ordering::SeqCst);
        // It waits for a connection, so it is given one.
        if TcpStream::connect(self.address).is_ok()
            && let Some(accepting) = self.accepting.take()
        {
            // Nobody is left to tell.
            let _ = accepting.join();
        }
        for stream in self.shared.open().drain(..) {
            if let Some(stream) = stream.upgrade() {
                let _ = stream.shutdown(Shutdown::Both);
            }
        }
    }
}

impl Shared {
    /// Gives every connection a thread of its own: browsers keep some open without a word, and those
    /// must not hold up others.
    fn accept(self: &Arc<Self>, listener: &TcpListener) {
        while !self.stopping.load(Ordering::SeqCst) {
            let Ok((stream, _)) = listener.accept() else {
                // One that went away again, or too many at once: either passes.
                std::thread::sleep(Duration::from_millis(20));
                continue;
            };
            let stream = Arc::new(stream);
            let mut open = self.open();
            open.retain(|stream| stream.strong_count() > 0);
            open.push(Arc::downgrade(&stream));
            drop(open);
            let shared = Arc::clone(self);
            let talking = Builder::new().name("connection".into());
            // Where there is no thread for it, the connection is dropped and the browser asks again;
            // one that breaks off needs no answer.
            let _ = talking.spawn(move || drop(converse(&stream, &shared.site)));
        }
    }

    fn open(&self) -> std::sync::MutexGuard<'_, Vec<Weak<TcpStream>>> {
        self.open.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::connection::{ALWAYS, POLICY};
    use std::fs;
    use std::io::{Read, Write};
    use std::path::PathBuf;

    const FRONT: &str = "<!doctype html><title>front</title>";
    const SECRET: &str = "not for everybody";

    /// A folder that goes when the test ends.
    struct Folder(PathBuf);

    impl Drop for Folder {
        fn drop(&mut self) {
            let _ = fs::remove_dir_all(&self.0);
        }
    }

    /// A served folder, with a file beside it that must not be served.
    struct Served {
        server: Server,
        folder: Folder,
    }

    fn big() -> Vec<u8> {
        // Hard to compress, and longer than what fits into a socket at once.
        let mut state = 1_u32;
        let next = |_| {
            state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            state.to_be_bytes()[0]
        };
        (0..6 << 20).map(next).collect()
    }

    fn serve(name: &str) -> Served {
        let own = format!("oddment-{name}-{}", std::process::id());
        let folder = Folder(std::env::temp_dir().join(own));
        let site = folder.0.join("site");
        fs::create_dir_all(site.join("assets")).unwrap();
        fs::create_dir_all(site.join("more pages")).unwrap();
        let long = "a table, a chair, a looking-glass; ".repeat(1000);
        for (name, bytes) in [
            ("../secret.txt", SECRET.as_bytes()),
            ("index.html", FRONT.as_bytes()),
            ("more pages/index.html", b"more"),
            ("long.txt", long.as_bytes()),
            ("assets/index-B1x2C3d4.js", long.as_bytes()),
            ("assets/index-B1x2C3d4.css", b"p {}"),
            ("assets/oddment-B1x2C3d4.wasm", b"\0asm"),
            ("icon.svg", b"<svg/>"),
            ("icon.png", b"png"),
            ("favicon.ico", b"ico"),
            ("letters.woff2", b"letters"),
            ("data.json", b"{}"),
            ("site.webmanifest", b"{}"),
            ("st\u{fc}hle.txt", b"chairs"),
            ("unknown.thing", b"?"),
            ("empty.js", b""),
            ("empty.bin", b""),
        ] {
            fs::write(site.join(name), bytes).unwrap();
        }
        fs::write(site.join("big.bin"), big()).unwrap();
        let listener = listen(Some(0)).unwrap();
        let server = Server::start(listener, Site::read(&site).unwrap()).unwrap();
        Served { server, folder }
    }

    #[derive(Debug)]
    struct Told {
        status: u16,
        headers: Vec<(String, String)>,
        body: Vec<u8>,
    }

    impl Told {
        fn header(&self, name: &str) -> &str {
            let mut found = self.headers.iter().filter(|(header, _)| header == name);
            let value = found.next().map_or("", |(_, value)| value);
            assert!(found.next().is_none(), "{name} is there twice");
            value
        }

        fn text(&self) -> &str {
            std::str::from_utf8(&self.body).unwrap()
        }
    }

    impl Served {
        /// Sends what is given and reads until the end.
        fn send(&self, raw: &str) -> Told {
            let mut stream = TcpStream::connect(self.server.address).unwrap();
            stream.write_all(raw.as_bytes()).unwrap();
            let mut told = Vec::new();
            stream.read_to_end(&mut told).unwrap();
            let end = told.windows(4).position(|four| four == b"\r\n\r\n");
            let (head, body) = told.split_at(end.unwrap() + 4);
            let mut lines = std::str::from_utf8(head).unwrap().lines();
            let status = lines.next().unwrap().split(' ').nth(1).unwrap();
            let pairs = lines.filter_map(|line| line.split_once(": "));
            Told {
                status: status.parse().unwrap(),
                headers: pairs
                    .map(|(name, value)| (name.to_ascii_lowercase(), value.to_owned()))
                    .collect(),
                body: body.to_owned(),
            }
        }

        fn ask(&self, method: &str, target: &str, headers: &str) -> Told {
            self.send(&format!(
                "{method} {target} HTTP/1.1\r\nHost: here\r\nConnection: close\r\n{headers}\r\n"
            ))
        }

        fn get(&self, target: &str) -> Told {
            self.ask("GET", target, "")
        }
    }

    #[test]
    fn every_file_has_its_type() {
        let served = serve("types");
        for (target, kind) in [
            ("/", "text/html; charset=utf-8"),
            ("/index.html", "text/html; charset=utf-8"),
            (
                "/assets/index-B1x2C3d4.js",
                "text/javascript; charset=utf-8",
            ),
            ("/assets/index-B1x2C3d4.css", "text/css; charset=utf-8"),
            ("/assets/oddment-B1x2C3d4.wasm", "application/wasm"),
            ("/icon.svg", "image/svg+xml"),
            ("/icon.png", "image/png"),
            ("/favicon.ico", "image/x-icon"),
            ("/letters.woff2", "font/woff2"),
            ("/data.json", "application/json"),
            ("/site.webmanifest", "application/manifest+json"),
            ("/long.txt", "text/plain; charset=utf-8"),
            ("/unknown.thing", "application/octet-stream"),
        ] {
            let told = served.get(target);
            assert_eq!(told.status, 200, "{target}");
            assert_eq!(told.header("content-type"), kind, "{target}");
        }
    }

    #[test]
    fn the_front_page_and_odd_names_are_found() {
        let served = serve("names");
        assert_eq!(served.get("/").text(), FRONT);
        assert_eq!(served.get("/?a=/../b").text(), FRONT);
        assert_eq!(served.get("/%69ndex.html#part").text(), FRONT);
        assert_eq!(served.get("/more%20pages/").text(), "more");
        assert_eq!(served.get("/st%C3%BChle.txt").text(), "chairs");
        assert_eq!(served.get("/more%20pages").status, 404);
    }

    #[test]
    fn text_is_compressed_as_the_client_likes() {
        let served = serve("compression");
        let plain = served.get("/long.txt");
        assert_eq!(plain.header("content-encoding"), "");
        assert_eq!(plain.header("vary"), "Accept-Encoding");
        let mut tags = vec![plain.header("etag").to_owned()];
        for (accepted, coding) in [("gzip, br", "br"), ("br;q=0.1, gzip", "gzip")] {
            let told = served.ask(
                "GET",
                "/long.txt",
                &format!("Accept-Encoding: {accepted}\r\n"),
            );
            assert_eq!(told.header("content-encoding"), coding);
            assert_eq!(told.header("vary"), "Accept-Encoding");
            assert_eq!(told.header("content-length"), told.body.len().to_string());
            assert!(told.body.len() < plain.body.len() / 10);
            let mut opened = Vec::new();
            match coding {
                "br" => brotli::BrotliDecompress(&mut &told.body[..], &mut opened).unwrap(),
                _ => {
                    let mut decoder = flate2::read::GzDecoder::new(&told.body[..]);
                    decoder.read_to_end(&mut opened).map(|_| ()).unwrap();
                }
            }
            assert_eq!(opened, plain.body);
            tags.push(told.header("etag").to_owned());
        }
        tags.dedup();
        assert_eq!(tags.len(), 3, "one tag for different bytes: {tags:?}");
        let picture = served.ask("GET", "/icon.png", "Accept-Encoding: br, gzip\r\n");
        assert_eq!(picture.header("content-encoding"), "");
        assert_eq!(picture.header("vary"), "");
    }

    #[test]
    fn headers_in_several_lines_count_together() {
        let served = serve("lines");
        let lines = "Accept-Encoding: br;q=0\r\naccept-encoding: gzip\r\n";
        let told = served.ask("GET", "/long.txt", lines);
        assert_eq!(told.header("content-encoding"), "gzip");
    }

    #[test]
    fn what_the_client_has_is_not_sent_again() {
        let served = serve("tags");
        let like = "Accept-Encoding: br\r\n";
        let first = served.ask("GET", "/long.txt", like);
        let tag = first.header("etag");
        for told in [
            tag.to_owned(),
            format!("\"other\", W/{tag}"),
            "*".to_owned(),
        ] {
            let again = format!("{like}If-None-Match: {told}\r\n");
            for method in ["GET", "HEAD"] {
                let again = served.ask(method, "/long.txt", &again);
                assert_eq!(again.status, 304, "{told}");
                assert!(again.body.is_empty());
                for kept in ["etag", "cache-control", "vary"] {
                    assert_eq!(again.header(kept), first.header(kept));
                }
                // Not the length of nothing.
                assert_eq!(
                    again.header("content-length"),
                    first.header("content-length")
                );
            }
        }
        for told in ["\"other\"".to_owned(), tag.replace("-br", "-gzip")] {
            let changed = format!("{like}If-None-Match: {told}\r\n");
            assert_eq!(served.ask("GET", "/long.txt", &changed).status, 200);
        }
        let missing = served.ask("GET", "/no.txt", "If-None-Match: *\r\n");
        assert_eq!(missing.status, 404);
    }

    #[test]
    fn only_hashed_names_are_kept_without_asking() {
        let served = serve("caching");
        let hashed = served.get("/assets/index-B1x2C3d4.js");
        assert_eq!(
            hashed.header("cache-control"),
            "public, max-age=31536000, immutable"
        );
        for target in ["/", "/long.txt", "/no.txt"] {
            assert_eq!(served.get(target).header("cache-control"), "no-cache");
        }
    }

    #[test]
    fn no_spelling_of_a_path_leads_out_of_the_folder() {
        let served = serve("paths");
        let secret = served.folder.0.join("secret.txt");
        assert_eq!(fs::read_to_string(&secret).unwrap(), SECRET);
        let absolute = secret.to_string_lossy().into_owned();
        let mut targets: Vec<String> = [
            "/../secret.txt",
            "/assets/../../secret.txt",
            "/./../secret.txt",
            "/..//secret.txt",
            "/%2e%2e/secret.txt",
            "/%2E%2E/secret.txt",
            "/.%2e/secret.txt",
            "/..%2fsecret.txt",
            "/%2e%2e%2fsecret.txt",
            "/%252e%252e/secret.txt",
            "/%252e%252e%252fsecret.txt",
            "/..\\secret.txt",
            "/..%5csecret.txt",
            "/%2e%2e%5Csecret.txt",
            "/assets\\..\\..\\secret.txt",
            "/..%c0%afsecret.txt",
            "/%c0%ae%c0%ae/secret.txt",
            "/..%00/secret.txt",
            "/../secret.txt%00.html",
            "/index.html%00",
            "/index.html/../../secret.txt",
            "/assets/../index.html",
            "/assets/%2e%2e/index.html",
            "//index.html",
            "/index.html/",
            "/%2findex.html",
            "/index.html%",
            "/assets",
            "/assets/",
            "/.",
            "/..",
            "secret.txt",
            "../secret.txt",
            "*",
            "http://here/../secret.txt",
            "file:///etc/passwd",
            "//etc/passwd",
            "/etc/passwd",
            "/C:/Windows/win.ini",
            "/C:%5cWindows%5cwin.ini",
        ]
        .map(str::to_owned)
        .to_vec();
        for before in ["", "/", "//", "/%2f", "/.."] {
            targets.push(format!("{before}{absolute}").replace(' ', "%20"));
        }
        for target in targets {
            let told = served.get(&target);
            assert_eq!(told.status, 404, "{target}");
            assert!(!told.text().contains(SECRET), "{target}");
        }
    }

    #[test]
    fn other_methods_are_refused_with_those_that_are_not() {
        let served = serve("methods");
        for method in ["POST", "PUT", "DELETE", "OPTIONS", "PATCH", "TRACE", "BREW"] {
            for target in ["/", "/no.txt"] {
                let told = served.ask(method, target, "Content-Length: 0\r\n");
                assert_eq!(told.status, 405, "{method} {target}");
                assert_eq!(told.header("allow"), "GET, HEAD");
            }
        }
    }

    #[test]
    fn head_tells_what_get_would_and_sends_nothing() {
        let served = serve("head");
        for target in ["/", "/long.txt", "/big.bin", "/empty.js", "/no.txt"] {
            let (mut head, get) = (served.ask("HEAD", target, ""), served.get(target));
            assert!(head.body.is_empty(), "{target}");
            let get_without_date = |told: &Told| -> Vec<(String, String)> {
                let headers = told.headers.iter();
                headers
                    .filter(|(name, _)| name != "date")
                    .cloned()
                    .collect()
            };
            assert_eq!(head.status, get.status, "{target}");
            head.headers = get_without_date(&head);
            assert_eq!(head.headers, get_without_date(&get), "{target}");
        }
    }

    #[test]
    fn every_answer_has_the_policy_and_its_companions() {
        let served = serve("headers");
        let tag = served.get("/").header("etag").to_owned();
        let answers = [
            (200, served.get("/")),
            (200, served.ask("HEAD", "/empty.js", "")),
            (
                304,
                served.ask("GET", "/", &format!("If-None-Match: {tag}\r\n")),
            ),
            (404, served.get("/no.txt")),
            (404, served.get("/%2e%2e/secret.txt")),
            (405, served.ask("POST", "/", "Content-Length: 0\r\n")),
        ];
        for (status, told) in answers {
            assert_eq!(told.status, status);
            for (name, value) in ALWAYS {
                assert_eq!(told.header(&name.to_ascii_lowercase()), value, "{status}");
            }
        }
        for part in [
            "default-src 'none';",
            "script-src 'self' 'wasm-unsafe-eval';",
            "; frame-ancestors 'none'",
        ] {
            assert!(POLICY.contains(part), "{part}");
        }
        assert!(!POLICY.contains("  "));
    }

    #[test]
    fn big_and_empty_files_arrive_whole() {
        let served = serve("sizes");
        let told = served.get("/big.bin");
        assert_eq!(told.header("content-length"), (6 << 20).to_string());
        assert!(told.body == big());
        for target in ["/empty.js", "/empty.bin"] {
            let told = served.ask("GET", target, "Accept-Encoding: br, gzip\r\n");
            assert_eq!(told.status, 200);
            assert_eq!(told.header("content-length"), "0");
            assert_eq!(told.header("content-encoding"), "");
            assert!(told.body.is_empty());
        }
        // An old client, which understands no chunks.
        let old = served.send("GET /big.bin HTTP/1.0\r\n\r\n");
        assert_eq!(old.header("transfer-encoding"), "");
        assert!(old.body == big());
    }

    #[test]
    fn one_connection_serves_several_requests() {
        let served = serve("connection");
        let told = served.send(
            "GET /empty.js HTTP/1.1\r\nHost: here\r\n\r\n\
             HEAD /big.bin HTTP/1.1\r\nHost: here\r\n\r\n\
             GET / HTTP/1.1\r\nHost: here\r\nConnection: close\r\n\r\n",
        );
        let text = String::from_utf8_lossy(&told.body);
        assert_eq!(text.matches("HTTP/1.1 200 OK").count(), 2, "{text}");
        assert!(text.ends_with(FRONT), "{text}");
    }

    #[test]
    fn many_are_answered_at_once_while_some_say_nothing() {
        let served = serve("crowd");
        let address = served.server.address;
        let silent: Vec<TcpStream> = (0..20)
            .map(|_| TcpStream::connect(address).unwrap())
            .collect();
        std::thread::scope(|scope| {
            let ask = || served.get("/long.txt").status;
            let asked: Vec<_> = (0..40).map(|_| scope.spawn(ask)).collect();
            for one in asked {
                assert_eq!(one.join().unwrap(), 200);
            }
        });
        drop(silent);
    }

    #[test]
    fn what_is_not_http_is_refused_and_the_server_goes_on() {
        let served = serve("noise");
        let long = "x".repeat(20_000);
        let many = "A: b\r\n".repeat(200);
        for (status, noise) in [
            (400, "hello\r\n\r\n".to_owned()),
            (400, "GET /\r\n\r\n".to_owned()),
            (400, "GET / HTTP/9\r\n\r\n".to_owned()),
            (400, "\0\u{1}\u{2}".to_owned()),
            (400, "GET / HTTP/1.1\r\n\r\n".to_owned()),
            (
                400,
                "GET / HTTP/1.1\r\nHost: here\r\n folded\r\n\r\n".to_owned(),
            ),
            (431, format!("GET /{long}")),
            (
                431,
                format!("GET / HTTP/1.1\r\nHost: here\r\nA: {long}\r\n\r\n"),
            ),
            (431, format!("GET / HTTP/1.1\r\nHost: here\r\n{many}\r\n")),
        ] {
            let told = served.send(&noise);
            let shown: String = noise.chars().take(60).collect();
            assert_eq!(told.status, status, "{shown:?}");
            for (name, value) in ALWAYS {
                assert_eq!(told.header(&name.to_ascii_lowercase()), value);
            }
        }
        assert_eq!(served.get("/").status, 200);
    }

    #[test]
    fn what_follows_a_body_is_not_taken_for_a_request() {
        let served = serve("bodies");
        let inner = "GET /long.txt HTTP/1.1\r\nHost: here\r\n\r\n";
        for header in [
            format!("Content-Length: {}", inner.len()),
            "Transfer-Encoding: chunked".to_owned(),
        ] {
            for (method, status) in [("POST", 405), ("GET", 200)] {
                let told = served.send(&format!(
                    "{method} /empty.js HTTP/1.1\r\nHost: here\r\n{header}\r\n\r\n{inner}"
                ));
                assert_eq!(told.status, status);
                assert_eq!(told.header("connection"), "close");
                assert_eq!(told.header("content-length"), told.body.len().to_string());
            }
        }
        // Refused, and told so, although nobody read it.
        let much = "x".repeat(300_000);
        let header = format!("Content-Length: {}\r\n\r\n{much}", much.len());
        assert_eq!(served.ask("POST", "/", &header).status, 405);
    }

    #[test]
    fn a_request_in_many_pieces_is_answered_once_it_is_whole() {
        let served = serve("pieces");
        let mut stream = TcpStream::connect(served.server.address).unwrap();
        stream.set_nodelay(true).unwrap();
        for byte in b"\r\nGET / HTTP/1.1\r\nHost: here\r\nConnection: Close\r\n\r\n" {
            stream.write_all(&[*byte]).unwrap();
        }
        let mut told = String::new();
        stream.read_to_string(&mut told).unwrap();
        assert!(told.starts_with("HTTP/1.1 200 OK\r\n"), "{told}");
        assert!(told.ends_with(FRONT), "{told}");
    }

    #[test]
    fn a_dropped_server_leaves_its_port_and_its_connections() {
        let served = serve("dropped");
        let address = served.server.address;
        assert!(address.ip().is_loopback());
        let mut silent = TcpStream::connect(address).unwrap();
        assert_eq!(served.get("/").status, 200);
        drop(served);
        assert!(TcpStream::connect(address).is_err());
        assert!(matches!(silent.read(&mut [0]), Ok(0) | Err(_)));
    }

    #[test]
    fn a_named_port_that_is_taken_is_told_and_the_usual_one_is_passed_over() {
        let first = listen(None).unwrap();
        let taken = first.local_addr().unwrap().port();
        let second = listen(None).unwrap().local_addr().unwrap().port();
        assert!(second != taken && second < PORT + TRIED);
        assert!(listen(Some(taken)).is_err_and(|error| error.contains("--port")));
    }

    #[test]
    fn a_folder_without_a_front_page_is_no_site() {
        let own = format!("oddment-nothing-{}", std::process::id());
        let folder = Folder(std::env::temp_dir().join(own));
        fs::create_dir_all(&folder.0).unwrap();
        let nothing = Site::read(&folder.0).map(|_| ());
        assert!(nothing.is_err_and(|error| error.contains("index.html")));
        let nowhere = Site::read(&folder.0.join("nowhere")).map(|_| ());
        assert!(nowhere.is_err_and(|error| error.contains("nowhere")));
    }

    #[cfg(unix)]
    #[test]
    fn links_are_not_followed() {
        let own = format!("oddment-links-{}", std::process::id());
        let folder = Folder(std::env::temp_dir().join(own));
        fs::create_dir_all(&folder.0).unwrap();
        fs::write(folder.0.join("index.html"), FRONT).unwrap();
        std::os::unix::fs::symlink("/etc", folder.0.join("assets")).unwrap();
        let site = Site::read(&folder.0).map(|_| ());
        assert!(site.is_err_and(|error| error.contains("assets")));
    }
}
