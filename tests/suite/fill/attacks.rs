//! Whoever is not asked to: another page in the same browser, a name that was made to point
//! here, a stranger, and somebody who sends too much, too slowly or too often.

use std::io::{Read as _, Write as _};
use std::net::TcpStream;
use std::time::{Duration, Instant};

use super::client::Served;
use super::filling::{KIND, upload};
use crate::folder::Folder;

const STEP: &str = "/baseline/m-crank-time";
const BODY: &[u8] = b"was:baseline.toml/reading/crank-time.value=12.8&baseline.toml/reading/crank-time.value=1.0&go=next";
const FORM: &str = "application/x-www-form-urlencoded";

fn fan() -> (Folder, Served) {
    let folder = Folder::copy_of("frost-fan");
    let served = Served::job(&folder.path());
    (folder, served)
}

#[test]
fn another_origin_is_refused_whatever_it_sends() {
    let (folder, served) = fan();
    let before = folder.read("baseline.toml");
    let browser = served.enter();
    let cookie = browser.cookie.as_str();
    let own = format!("http://{}", served.host);
    let posts: [&[(&str, &str)]; 6] = [
        &[("Cookie", cookie), ("Origin", "http://evil.example")],
        &[("Cookie", cookie), ("Origin", "null")],
        &[("Cookie", cookie), ("Origin", "http://localhost:1")],
        &[("Cookie", cookie)],
        &[
            ("Cookie", cookie),
            ("Origin", &own),
            ("Sec-Fetch-Site", "cross-site"),
        ],
        // SameSite keeps the cookie back; without it there is nothing to see either.
        &[("Origin", &own)],
    ];
    for headers in posts {
        let mut headers = headers.to_vec();
        headers.push(("Content-Type", FORM));
        let answer = served.send("POST", STEP, &headers, BODY);
        assert_eq!(answer.status, 403, "{headers:?}");
    }
    assert_eq!(folder.read("baseline.toml"), before);
    // A script of another page may send a request, but not read the answer.
    let answer = served.send(
        "GET",
        STEP,
        &[("Cookie", cookie), ("Origin", "http://evil.example")],
        b"",
    );
    assert_eq!(answer.status, 403);
    assert_eq!(
        browser.get(STEP).header("access-control-allow-origin"),
        None
    );
}

#[test]
fn a_name_that_was_made_to_point_here_is_refused() {
    let (_folder, served) = fan();
    let browser = served.enter();
    let port = served.host.split(':').nth(1).unwrap();
    for host in [
        "evil.example",
        &format!("evil.example:{port}"),
        "",
        "127.0.0.1",
        "127.0.0.1:1",
    ] {
        let headers = [("Host", host), ("Cookie", browser.cookie.as_str())];
        for path in [STEP, "/form.css", "/open/x"] {
            let answer = served.send_bare("GET", path, &headers, b"");
            assert!(
                matches!(answer.status, 400 | 403),
                "{host} {path}: {}",
                answer.status
            );
        }
    }
}

#[test]
fn without_a_token_or_with_one_of_yesterday_there_is_nothing() {
    let (_folder, served) = fan();
    for path in [
        "/",
        STEP,
        "/finish",
        "/open/",
        "/open/00",
        "/baseline/media",
    ] {
        let answer = served.send("GET", path, &[], b"");
        assert_eq!(answer.status, 403, "{path}");
        assert!(!answer.body.contains("Frost fan"), "{path}");
    }
    let browser = served.enter();
    assert_eq!(
        served.send("GET", &served.open, &[], b"").status,
        403,
        "used twice"
    );
    let yesterday = "fill=000000000000000000000000000000000000000000000000";
    assert_eq!(
        served
            .send("GET", STEP, &[("Cookie", yesterday)], b"")
            .status,
        403
    );
    let (_other_folder, other) = fan();
    let strange = [("Cookie", browser.cookie.as_str())];
    assert_eq!(
        other.send("GET", STEP, &strange, b"").status,
        403,
        "another form's cookie"
    );
}

#[test]
fn what_every_answer_says() {
    let (_folder, served) = fan();
    let entered = served.send("GET", &served.open, &[], b"");
    let cookie = entered.header("set-cookie").unwrap();
    assert!(
        cookie.contains("HttpOnly") && cookie.contains("SameSite=Strict"),
        "{cookie}"
    );
    let cookie = cookie.split(';').next().unwrap();
    for path in [STEP, "/form.js", "/nowhere"] {
        let page = served.send("GET", path, &[("Cookie", cookie)], b"");
        let policy = page.header("content-security-policy").unwrap();
        assert!(
            policy.contains("default-src 'none'") && !policy.contains("unsafe"),
            "{policy}"
        );
        assert_eq!(page.header("cache-control"), Some("no-store"));
        assert_eq!(page.header("x-content-type-options"), Some("nosniff"));
        assert!(
            !page.body.contains("style=\"") && !page.body.contains(" onclick"),
            "{path}"
        );
    }
}

#[test]
fn no_address_leads_out_of_the_job() {
    let (_folder, served) = fan();
    let browser = served.enter();
    for path in [
        "/../shop.toml",
        "/baseline/../../etc/passwd",
        "/baseline/..%2f..%2fetc%2fpasswd",
        "/job/baseline.toml",
        "/baseline.toml",
        "/photos/filter-before.jpg",
        "//etc/passwd",
        "/seals",
    ] {
        let answer = browser.get(path);
        assert_eq!(answer.status, 404, "{path}");
    }
}

#[test]
fn fields_that_the_page_does_not_have_are_not_written() {
    let (folder, served) = fan();
    let before = folder.read("baseline.toml");
    let body = "was:baseline.toml.format=1&baseline.toml.format=2\
                &was:../shop.toml.name=x&../shop.toml.name=y\
                &was:baseline.toml/reading/other.value=&baseline.toml/reading/other.value=1\
                &was:limits.toml/measure%230.max=5.0&limits.toml/measure%230.max=50&go=next";
    let answer = served.enter().post(STEP, FORM, body.as_bytes());
    assert_eq!(answer.status, 303, "{}", answer.body);
    assert_eq!(folder.read("baseline.toml"), before);
    assert!(folder.read("limits.toml").contains("max = 5.0"));
}

#[test]
fn what_is_in_the_files_is_never_markup() {
    let folder = Folder::copy_of("frost-fan");
    folder.replace(
        "job.toml",
        "name = \"Frost fan 2, lower orchard\"",
        "name = \"<script>alert(1)</script>\"",
    );
    folder.replace(
        "limits.toml",
        "name = \"Crank time to running\"",
        "name = \"\\\"><img src=x onerror=alert(1)>\"",
    );
    let served = Served::job(&folder.path());
    let page = served.enter().get(STEP).body;
    assert!(
        !page.contains("<script>alert") && !page.contains("<img src=x"),
        "{page}"
    );
    assert!(page.contains("&lt;script&gt;alert"), "{page}");
}

#[test]
fn a_form_and_a_photo_that_are_too_large_are_refused() {
    let (folder, served) = fan();
    let before = folder.listing();
    let browser = served.enter();
    let large = vec![b'a'; 300 << 10];
    let answer = browser.post(STEP, FORM, &large);
    assert!(matches!(answer.status, 0 | 413), "{}", answer.status);
    // A photo of 1 GiB is cut off at its limit; nothing of it is left.
    let mut head = b"\xFF\xD8\xFF\xE0".to_vec();
    head.resize(1 << 20, 0);
    let body = upload(&head, "x.jpg", "Large");
    let start = body.len() - b"\r\n--cut--\r\n".len();
    let mut stream = TcpStream::connect(&served.host).unwrap();
    let request = format!(
        "POST /retest/media HTTP/1.1\r\nHost: {0}\r\nOrigin: http://{0}\r\nCookie: {1}\r\n\
         Content-Type: {KIND}\r\nContent-Length: {2}\r\n\r\n",
        served.host,
        browser.cookie,
        1u64 << 30
    );
    stream.write_all(request.as_bytes()).unwrap();
    stream.write_all(&body[..start]).unwrap();
    let piece = vec![0; 1 << 20];
    let mut sent = 1u64;
    while sent < 1024 && stream.write_all(&piece).is_ok() {
        sent += 1;
    }
    assert!(sent < 200, "{sent} MiB were taken");
    drop(stream);
    std::thread::sleep(Duration::from_millis(500));
    assert_eq!(folder.listing(), before, "nothing is left");
}

#[test]
fn a_slow_client_and_a_thousand_connections_keep_nobody_out_for_long() {
    let (_folder, served) = fan();
    let browser = served.enter();
    let mut slow = TcpStream::connect(&served.host).unwrap();
    slow.write_all(b"GET / HTTP/1.1\r\nHost: ").unwrap();
    let crowd: Vec<TcpStream> = (0..1000)
        .filter_map(|_| TcpStream::connect(&served.host).ok())
        .collect();
    let start = Instant::now();
    // Whoever sends nothing is shown out, and there is room again.
    let page = loop {
        let answer = std::panic::catch_unwind(std::panic::AssertUnwindSafe(|| browser.get(STEP)));
        if let Ok(answer) = answer
            && answer.status == 200
        {
            break answer;
        }
        assert!(start.elapsed() < Duration::from_secs(25), "still no room");
        std::thread::sleep(Duration::from_millis(200));
    };
    assert!(page.body.contains("Crank time"));
    slow.set_read_timeout(Some(Duration::from_secs(15)))
        .unwrap();
    let mut rest = Vec::new();
    let _ = slow.read_to_end(&mut rest);
    assert!(
        start.elapsed() < Duration::from_secs(30),
        "the slow client was shown out"
    );
    drop(crowd);
}
