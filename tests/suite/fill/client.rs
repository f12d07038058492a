//! The form, started as a program, and a browser without a screen.

use std::any::Any;
use std::io::{BufRead as _, BufReader, Read as _, Write as _};
use std::net::TcpStream;
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::Duration;

/// The program while it serves a form.
pub struct Served {
    child: Child,
    /// Host and port.
    pub host: String,
    /// The path of the one-time address.
    pub open: String,
    // What it writes to: it still has something to say.
    _out: Box<dyn Any>,
}

impl Served {
    /// Serves the job in `folder`.
    pub fn job(folder: &Path) -> Self {
        Self::at(folder, &[], |_| true).expect("an address")
    }

    /// The same over the network; nothing where this machine is in none.
    pub fn over_the_network(folder: &Path) -> Option<Self> {
        Self::at(folder, &["--phone"], |address| !address.starts_with("127."))
    }

    fn at(folder: &Path, more: &[&str], wanted: impl Fn(&str) -> bool) -> Option<Self> {
        let mut child = Command::new(env!("CARGO_BIN_EXE_retestify"))
            .args(["fill", "--idle", "60"])
            .args(more)
            .arg(folder)
            // Whoever runs the tests may have an identity of their own.
            .env("RETESTIFY_IDENTITY", "/nowhere")
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let mut out = BufReader::new(child.stdout.take().unwrap());
        let address = loop {
            let mut line = String::new();
            if out.read_line(&mut line).unwrap() == 0 {
                let _ = child.wait();
                return None;
            }
            let address = line.trim().strip_prefix("http://");
            if let Some(address) = address.filter(|address| wanted(address)) {
                break address.to_owned();
            }
        };
        Some(Self::started(child, &address, out))
    }

    /// The program `child`, which has shown the one-time `address`, without its `http://`.
    pub fn started(child: Child, address: &str, out: impl Any) -> Self {
        let (host, path) = address.split_once('/').unwrap();
        Self {
            child,
            host: host.to_owned(),
            open: format!("/{path}"),
            _out: Box::new(out),
        }
    }

    /// Ends the program in the middle of whatever it does.
    pub fn kill(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }

    /// Opens the form, as the one-time address does.
    pub fn enter(&self) -> Browser<'_> {
        let answer = self.send("GET", &self.open, &[], b"");
        assert_eq!(answer.status, 303, "{}", answer.body);
        let cookie = answer.header("set-cookie").expect("a cookie");
        let value = cookie.split(';').next().unwrap().to_owned();
        Browser {
            served: self,
            cookie: value,
        }
    }

    /// One request with these headers besides `Host`.
    pub fn send(&self, method: &str, path: &str, headers: &[(&str, &str)], body: &[u8]) -> Answer {
        let mut all = vec![("Host", self.host.as_str())];
        all.extend(headers);
        self.send_bare(method, path, &all, body)
    }

    /// One request with exactly these headers.
    pub fn send_bare(
        &self,
        method: &str,
        path: &str,
        headers: &[(&str, &str)],
        body: &[u8],
    ) -> Answer {
        let mut stream = TcpStream::connect(&self.host).unwrap();
        stream
            .set_read_timeout(Some(Duration::from_secs(60)))
            .unwrap();
        let mut head = format!("{method} {path} HTTP/1.1\r\n");
        for (name, value) in headers {
            head += &format!("{name}: {value}\r\n");
        }
        head += &format!("Content-Length: {}\r\n\r\n", body.len());
        stream.write_all(head.as_bytes()).unwrap();
        // What is refused early is not read to its end.
        let _ = stream.write_all(body);
        let mut bytes = Vec::new();
        let _ = stream.read_to_end(&mut bytes);
        Answer::of(&bytes)
    }
}

impl Drop for Served {
    fn drop(&mut self) {
        self.kill();
    }
}

/// An answer.
#[derive(Debug)]
pub struct Answer {
    pub status: u16,
    head: String,
    pub body: String,
}

impl Answer {
    fn of(bytes: &[u8]) -> Self {
        let text = String::from_utf8_lossy(bytes);
        let (head, body) = text.split_once("\r\n\r\n").unwrap_or((&text, ""));
        let status = head
            .split(' ')
            .nth(1)
            .and_then(|status| status.parse().ok());
        Self {
            status: status.unwrap_or(0),
            head: head.to_owned(),
            body: body.to_owned(),
        }
    }

    /// A header of it.
    pub fn header(&self, name: &str) -> Option<&str> {
        let mut lines = self.head.lines().filter_map(|line| line.split_once(": "));
        lines
            .find(|(key, _)| key.eq_ignore_ascii_case(name))
            .map(|(_, value)| value)
    }
}

/// A browser that is in.
pub struct Browser<'a> {
    served: &'a Served,
    pub cookie: String,
}

impl Browser<'_> {
    /// A page.
    pub fn get(&self, path: &str) -> Answer {
        self.served
            .send("GET", path, &[("Cookie", &self.cookie)], b"")
    }

    /// A form, as a browser sends it.
    pub fn post(&self, path: &str, kind: &str, body: &[u8]) -> Answer {
        let origin = format!("http://{}", self.served.host);
        let headers = [
            ("Cookie", self.cookie.as_str()),
            ("Origin", &origin),
            ("Sec-Fetch-Site", "same-origin"),
            ("Content-Type", kind),
        ];
        self.served.send("POST", path, &headers, body)
    }

    /// Fills in fields of the page at `path`, all others as they are there, and presses the
    /// button `go`.
    pub fn fill(&self, path: &str, typed: &[(&str, &[&str])], go: &str) -> Answer {
        let page = self.get(path);
        assert_eq!(page.status, 200, "{path}: {}", page.body);
        self.send_form(path, &page.body, typed, go)
    }

    /// The same from a page that was loaded before.
    pub fn send_form(&self, path: &str, page: &str, typed: &[(&str, &[&str])], go: &str) -> Answer {
        let mut pairs: Vec<(String, String)> = Vec::new();
        for (name, value) in fields(page) {
            if !typed.iter().any(|(typed, _)| *typed == name) {
                pairs.push((name, value));
            }
        }
        for (name, values) in typed {
            let was = format!("was:{name}");
            assert!(
                pairs.iter().any(|(name, _)| *name == was),
                "no field {name} in {page}"
            );
            pairs.extend(
                values
                    .iter()
                    .map(|value| ((*name).to_owned(), (*value).to_owned())),
            );
        }
        pairs.push(("go".to_owned(), go.to_owned()));
        let body: Vec<String> = pairs
            .iter()
            .map(|(name, value)| format!("{}={}", encoded(name), encoded(value)))
            .collect();
        let kind = "application/x-www-form-urlencoded";
        self.post(path, kind, body.join("&").as_bytes())
    }
}

fn encoded(text: &str) -> String {
    form_urlencoded::byte_serialize(text.as_bytes()).collect()
}

/// The fields of the form of a page that a browser would send.
fn fields(page: &str) -> Vec<(String, String)> {
    let form = page.split("<form id=\"form\"").nth(1).unwrap_or_default();
    let form = form.split("</form>").next().unwrap_or_default();
    let mut found = Vec::new();
    for tag in form
        .split('<')
        .filter(|tag| tag.starts_with("input") || tag.starts_with("textarea"))
    {
        let inside = tag.split('>').next().unwrap_or_default();
        let attribute = |name: &str| {
            let start = format!(" {name}=\"");
            let rest = inside.split(&start).nth(1)?;
            rest.split('"').next().map(unescaped)
        };
        let is_choice = matches!(attribute("type").as_deref(), Some("radio" | "checkbox"));
        if is_choice && !inside.contains(" checked=\"") {
            continue;
        }
        let value = match tag.starts_with("textarea") {
            true => Some(unescaped(tag.split_once('>').map_or("", |(_, text)| text))),
            false => attribute("value"),
        };
        found.extend(attribute("name").zip(Some(value.unwrap_or_default())));
    }
    found
}

fn unescaped(text: &str) -> String {
    text.replace("&lt;", "<")
        .replace("&gt;", ">")
        .replace("&quot;", "\"")
        .replace("&#39;", "'")
        .replace("&amp;", "&")
}
