//! The program is ended in the middle of filling in: what was answered is in the files, and
//! no file is half-written.

use std::time::Duration;

use rand::{RngExt, SeedableRng, rngs::StdRng};

use super::client::Served;
use crate::folder::Folder;

const FIELD: &str = "baseline.toml/reading/crank-time.value";
const STEP: &str = "/baseline/m-crank-time";

/// How often the program is ended; `FILL_KILLS` says otherwise.
fn times() -> u32 {
    let told = std::env::var("FILL_KILLS")
        .ok()
        .and_then(|times| times.parse().ok());
    told.unwrap_or(12)
}

#[test]
fn a_kill_loses_at_most_the_field_in_hand() {
    let folder = Folder::copy_of("frost-fan");
    let mut random = StdRng::seed_from_u64(15);
    for time in 0..times() {
        let mut served = Served::job(&folder.path());
        let pause = Duration::from_millis(random.random_range(5..400));
        let (answered, sent) = std::thread::scope(|scope| {
            let host = served.host.clone();
            let open = served.open.clone();
            let typing = scope.spawn(move || type_on(&host, &open, time));
            std::thread::sleep(pause);
            served.kill();
            typing.join().unwrap()
        });
        let text = folder.read("baseline.toml");
        let parsed: toml::Table =
            toml::from_str(&text).unwrap_or_else(|why| panic!("{why}: {text}"));
        let value = &parsed["reading"]["crank-time"]["value"];
        let value = value.as_float().unwrap();
        if let Some(answered) = answered {
            let kept = [answered, sent].contains(&value);
            assert!(
                kept,
                "{value} is in the file, {answered} was answered, {sent} was sent"
            );
        }
        assert!(
            text.starts_with("format = 1") && text.contains("Dial gauge"),
            "{text}"
        );
    }
    assert_eq!(folder.check().code, 0);
}

/// Types one figure after the other until nobody answers; the last that was answered, and the
/// last that was sent.
fn type_on(host: &str, open: &str, time: u32) -> (Option<f64>, f64) {
    let mut answered = None;
    let mut sent = 0.0;
    let Some(cookie) = ask(
        host,
        &format!("GET {open} HTTP/1.1\r\nHost: {host}\r\n\r\n"),
    )
    .and_then(|answer| {
        let line = answer
            .lines()
            .find(|line| line.starts_with("set-cookie: "))?
            .to_owned();
        Some(
            line.trim_start_matches("set-cookie: ")
                .split(';')
                .next()?
                .to_owned(),
        )
    }) else {
        return (None, 0.0);
    };
    let get = format!("GET {STEP} HTTP/1.1\r\nHost: {host}\r\nCookie: {cookie}\r\n\r\n");
    let Some(page) = ask(host, &get) else {
        return (None, 0.0);
    };
    let mark = format!("name=\"was:{FIELD}\" value=\"");
    let was = page
        .split(&mark)
        .nth(1)
        .and_then(|rest| rest.split('"').next());
    let mut was = was.unwrap_or_default().to_owned();
    for number in 1..1000 {
        let figure = format!("{}.{number}", 10 + time % 80);
        sent = figure.parse().unwrap();
        let body = format!("was:{FIELD}={was}&{FIELD}={figure}&go=stay");
        let post = format!(
            "POST {STEP} HTTP/1.1\r\nHost: {host}\r\nCookie: {cookie}\r\nOrigin: http://{host}\r\n\
             Content-Type: application/x-www-form-urlencoded\r\nContent-Length: {}\r\n\r\n{body}",
            body.len()
        );
        match ask(host, &post) {
            Some(answer) if answer.starts_with("HTTP/1.1 200") => {
                answered = Some(sent);
                was = figure;
            }
            _ => break,
        }
    }
    (answered, sent)
}

fn ask(host: &str, request: &str) -> Option<String> {
    use std::io::{Read as _, Write as _};
    let mut stream = std::net::TcpStream::connect(host).ok()?;
    stream.write_all(request.as_bytes()).ok()?;
    let mut answer = Vec::new();
    stream.read_to_end(&mut answer).ok()?;
    let text = String::from_utf8_lossy(&answer).into_owned();
    (!text.is_empty()).then_some(text)
}
