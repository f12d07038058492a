//! What is typed into the form is in the files, and nothing else of them changes.

use super::client::Served;
use crate::folder::Folder;

const DRIFT: &str = "baseline.toml/reading/crank-time.value";
const STEP: &str = "/baseline/m-crank-time";

/// The frost fan before its retest, ready to be filled in.
fn fan() -> Folder {
    Folder::copy_of("frost-fan")
}

#[test]
fn a_figure_is_in_its_file_with_its_digits_and_all_else_as_it_was() {
    let folder = fan();
    let before = folder.read("baseline.toml");
    let served = Served::job(&folder.path());
    let browser = served.enter();
    let answer = browser.fill(STEP, &[(DRIFT, &["12,90"])], "next");
    assert_eq!(answer.status, 303, "{}", answer.body);
    assert_eq!(answer.header("location"), Some("/baseline/m-contribution"));
    assert_eq!(
        folder.read("baseline.toml"),
        before.replace("value = 12.8", "value = 12.90")
    );
    browser.fill(STEP, &[(DRIFT, &["12.9", "13.0", ""])], "next");
    assert!(
        folder
            .read("baseline.toml")
            .contains("values = [12.9, 13.0]")
    );
    assert_eq!(
        folder
            .listing()
            .iter()
            .filter(|name| name.starts_with('.'))
            .count(),
        0
    );
}

#[test]
fn what_is_no_number_is_told_at_the_field_and_not_written() {
    let folder = fan();
    let before = folder.read("baseline.toml");
    let served = Served::job(&folder.path());
    let answer = served
        .enter()
        .fill(STEP, &[(DRIFT, &["twelve <b>"])], "next");
    assert_eq!(answer.status, 409);
    assert!(
        answer.body.contains("This is not a number"),
        "{}",
        answer.body
    );
    assert!(
        answer.body.contains("value=\"twelve &lt;b&gt;\""),
        "what was typed stays"
    );
    assert_eq!(folder.read("baseline.toml"), before);
}

#[test]
fn what_check_says_stands_at_the_field() {
    let folder = fan();
    folder.replace("baseline.toml", "value = 12.8", "value = -12.8");
    let served = Served::job(&folder.path());
    let page = served.enter().get(STEP).body;
    let at_field = page.split("class=\"said\"").nth(1).unwrap();
    let at_field = at_field.split("</div>").next().unwrap();
    assert!(at_field.contains("cannot be negative"), "{at_field}");
}

#[test]
fn whether_a_reading_meets_its_limit_is_asked_of_the_judge() {
    let folder = fan();
    let served = Served::job(&folder.path());
    let page = served.enter().get(STEP).body;
    let stands = page
        .split("id=\"stands\"")
        .nth(1)
        .unwrap()
        .split("</div>")
        .next()
        .unwrap();
    let stands = stands.replace('\u{a0}', " ");
    assert!(stands.contains("12.8 ± 0.2, fail"), "{stands}");
}

/// Two windows on the same page: the second may not undo what the first wrote, and whatever
/// the first did not touch can still be written.
#[test]
fn a_second_window_and_an_editor_lose_nothing_in_silence() {
    let folder = fan();
    let served = Served::job(&folder.path());
    let browser = served.enter();
    let old_page = browser.get(STEP).body;
    folder.replace("baseline.toml", "value = 12.8", "value = 12.7");
    let answer = browser.send_form(STEP, &old_page, &[(DRIFT, &["11.1"])], "next");
    assert_eq!(answer.status, 409);
    assert!(
        answer.body.contains("Meanwhile the file says “12.7”"),
        "{}",
        answer.body
    );
    assert!(folder.read("baseline.toml").contains("value = 12.7"));
    let note = "baseline.toml/reading/crank-time.note";
    let answer = browser.send_form(
        STEP,
        &old_page,
        &[(note, &["after a night outside"])],
        "next",
    );
    assert_eq!(answer.status, 303, "{}", answer.body);
    let text = folder.read("baseline.toml");
    assert!(
        text.contains("value = 12.7") && text.contains("after a night outside"),
        "{text}"
    );
}

#[test]
fn a_file_that_is_no_toml_just_now_is_left_alone() {
    let folder = fan();
    let served = Served::job(&folder.path());
    let browser = served.enter();
    let page = browser.get(STEP).body;
    folder.replace("baseline.toml", "value = 12.8", "value = 12,8");
    let broken = folder.read("baseline.toml");
    let answer = browser.send_form(STEP, &page, &[(DRIFT, &["11.1"])], "next");
    assert_eq!(answer.status, 409);
    assert!(
        answer.body.contains("baseline.toml cannot be read"),
        "{}",
        answer.body
    );
    assert_eq!(folder.read("baseline.toml"), broken);
}

#[test]
fn what_is_sealed_is_shown_and_not_changed() {
    let folder = fan();
    let path = folder.path();
    let sealed = crate::folder::run(&["seal", "baseline", path.to_str().unwrap(), "--unsigned"]);
    assert_eq!(sealed.code, 0, "{}", sealed.err);
    let before = folder.read("baseline.toml");
    let served = Served::job(&path);
    let browser = served.enter();
    let page = browser.get(STEP).body;
    assert!(
        page.contains("Sealed 2026-11-25") && page.contains("disabled"),
        "{page}"
    );
    let body = format!("was:{DRIFT}=12.8&{DRIFT}=1.0&go=next");
    let kind = "application/x-www-form-urlencoded";
    assert_eq!(browser.post(STEP, kind, body.as_bytes()).status, 409);
    assert_eq!(folder.read("baseline.toml"), before);
}

#[test]
fn a_photo_and_a_film_are_named_in_the_file_of_their_run() {
    let folder = fan();
    let photo = std::fs::read(folder.file("photos/filter-before.jpg")).unwrap();
    let served = Served::job(&folder.path());
    let browser = served.enter();
    let film = b"\x00\x00\x00\x18ftypmp42 and so on".to_vec();
    for (bytes, name) in [(&photo, "../../evil.jpg"), (&film, "x.mp4")] {
        let answer = browser.post(
            "/retest/media",
            KIND,
            &upload(bytes, name, "The gauge: 11 kPa"),
        );
        assert_eq!(answer.status, 303, "{}", answer.body);
    }
    let text = folder.read("retest.toml");
    assert!(
        text.contains("file = \"photos/the-gauge-11-kpa-retest.jpg\""),
        "{text}"
    );
    assert!(
        text.contains("file = \"captures/the-gauge-11-kpa-retest.mp4\""),
        "{text}"
    );
    assert_eq!(
        std::fs::read(folder.file("photos/the-gauge-11-kpa-retest.jpg")).unwrap(),
        photo
    );
    assert_eq!(folder.check().code, 0, "{}", folder.check().err);
    let page = b"<svg xmlns=\"http://www.w3.org/2000/svg\"/>";
    let answer = browser.post("/retest/media", KIND, &upload(page, "x.jpg", "A picture"));
    assert_eq!(answer.status, 415);
    assert_eq!(
        folder
            .listing()
            .iter()
            .filter(|name| name.starts_with('.'))
            .count(),
        0
    );
}

pub const KIND: &str = "multipart/form-data; boundary=cut";

/// A form with a file in it.
pub fn upload(bytes: &[u8], name: &str, caption: &str) -> Vec<u8> {
    let mut body = format!(
        "--cut\r\nContent-Disposition: form-data; name=\"step\"\r\n\r\nend\r\n\
         --cut\r\nContent-Disposition: form-data; name=\"caption\"\r\n\r\n{caption}\r\n\
         --cut\r\nContent-Disposition: form-data; name=\"file\"; filename=\"{name}\"\r\n\
         Content-Type: image/jpeg\r\n\r\n"
    )
    .into_bytes();
    body.extend_from_slice(bytes);
    body.extend_from_slice(b"\r\n--cut--\r\n");
    body
}

/// In Spanish the form speaks Spanish and takes a decimal comma.
#[test]
fn a_decimal_comma_arrives_right() {
    let folder = fan();
    let shop = folder.read("shop.toml");
    folder.write(
        "shop.toml",
        shop.replace("name =", "language = \"es\"\nname ="),
    );
    let served = Served::job(&folder.path());
    let browser = served.enter();
    let page = browser.get(STEP).body;
    assert!(
        page.contains("<html lang=\"es\">") && page.contains("value=\"12,8\""),
        "{page}"
    );
    assert_eq!(
        browser.fill(STEP, &[(DRIFT, &["12,9"])], "next").status,
        303
    );
    assert!(folder.read("baseline.toml").contains("value = 12.9"));
    let answer = browser.fill(STEP, &[(DRIFT, &["1.022"])], "next");
    assert!(
        answer.body.contains("Puede ser 1,022 o 1022"),
        "{}",
        answer.body
    );
}

/// A film that was kept can be named beside a figure, with the minute that shows it.
#[test]
fn a_film_shows_a_reading() {
    let folder = fan();
    let served = Served::job(&folder.path());
    let browser = served.enter();
    let file = "baseline.toml/reading/crank-time.recording";
    assert!(!browser.get(STEP).body.contains(file));
    let film = b"\x00\x00\x00\x18ftypmp42 and so on";
    let answer = browser.post("/baseline/media", KIND, &upload(film, "x.mp4", "The start"));
    assert_eq!(answer.status, 303, "{}", answer.body);
    let path = "captures/the-start-baseline.mp4";
    let at = "baseline.toml/reading/crank-time.recording_at";
    let answer = browser.fill(STEP, &[(file, &[path]), (at, &["2:17"])], "next");
    assert_eq!(answer.status, 303, "{}", answer.body);
    let text = folder.read("baseline.toml");
    let shown = format!("recording = \"{path}\"\nrecording_at = \"2:17\"");
    assert!(text.contains(&shown), "{text}");
    assert_eq!(folder.check().code, 0, "{}", folder.check().err);
    // A time that is none is told at the field.
    browser.fill(STEP, &[(at, &["137"])], "next");
    let page = browser.get(STEP).body;
    assert!(page.contains("this is no time in a recording"), "{page}");
}

/// In Spanish it says in Spanish what was typed wrong; what it has no Spanish for is marked.
#[test]
fn what_is_wrong_is_told_in_spanish() {
    let folder = fan();
    let shop = folder.read("shop.toml");
    folder.write(
        "shop.toml",
        shop.replace("name =", "language = \"es\"\nname ="),
    );
    let passes = "baseline.toml/reading/first-try.passes";
    let served = Served::job(&folder.path());
    let browser = served.enter();
    browser.fill("/baseline/m-first-try", &[(passes, &["7"])], "next");
    let page = browser.get("/baseline/m-first-try").body;
    let told = "<p>7 logrados son más que 3 intentos: intercambie o corrija los dos números</p>";
    assert!(page.contains(told), "{page}");
    folder.replace(
        "baseline.toml",
        "fuel = { text = \"winter diesel\" }",
        "fuel = { value = 1 }",
    );
    let page = browser.get("/baseline/conditions").body;
    let told = "<p>la condición «fuel» va con palabras: escriba `text = &quot;…&quot;`, o póngale";
    assert!(page.contains(told), "{page}");
    // What a parser says of a file that is no TOML is not among the sentences.
    let sound = folder.read("retest.toml");
    folder.write("retest.toml", format!("{sound}\n]"));
    let page = browser.get("/retest/conditions").body;
    assert!(
        page.contains("<li>retest.toml: <span lang=\"en\">"),
        "{page}"
    );
}

/// The form seals, and makes receipt and report, on this computer.
#[test]
fn a_button_seals_on_this_computer() {
    let folder = fan();
    let served = Served::job(&folder.path());
    let browser = served.enter();
    let kind = "application/x-www-form-urlencoded";
    assert!(
        browser
            .get("/finish")
            .body
            .contains("action=\"/do/seal-baseline\"")
    );
    let done = browser.post("/do/seal-baseline", kind, b"");
    assert!(
        done.status == 200 && done.body.contains("fingerprint"),
        "{}",
        done.body
    );
    assert!(folder.file("seals/1-baseline.sha256").exists() && folder.file("receipt.pdf").exists());
    let page = browser.get("/finish").body;
    assert!(
        page.contains("/do/receipt") && !page.contains("/do/seal-baseline"),
        "{page}"
    );
    // What the command refuses, the form says.
    let again = browser.post("/do/seal-baseline", kind, b"");
    assert!(
        again.status == 409 && again.body.contains("error:"),
        "{}",
        again.body
    );
    assert_eq!(browser.post("/do/seal-retest", kind, b"").status, 200);
    assert_eq!(browser.post("/do/report", kind, b"").status, 200);
    assert!(folder.file("report.pdf").exists());
    assert_eq!(browser.post("/do/something", kind, b"").status, 403);
    // A page of another origin asks for nothing.
    let other = [
        ("Cookie", browser.cookie.as_str()),
        ("Origin", "http://evil.example"),
        ("Content-Type", kind),
    ];
    assert_eq!(served.send("POST", "/do/report", &other, b"").status, 403);
}

/// Over the network nothing is sealed, signed or made.
#[test]
fn nothing_is_sealed_over_the_network() {
    let folder = fan();
    let Some(served) = Served::over_the_network(&folder.path()) else {
        return;
    };
    let welcome = served.send("GET", &served.open, &[], b"");
    let cookie = welcome
        .header("set-cookie")
        .unwrap()
        .split(';')
        .next()
        .unwrap();
    let page = served
        .send("GET", "/finish", &[("Cookie", cookie)], b"")
        .body;
    assert!(
        page.contains("retestify seal baseline") && !page.contains("/do/"),
        "{page}"
    );
    let origin = format!("http://{}", served.host);
    let kind = "application/x-www-form-urlencoded";
    let headers = [
        ("Cookie", cookie),
        ("Origin", origin.as_str()),
        ("Content-Type", kind),
    ];
    assert_eq!(
        served
            .send("POST", "/do/seal-baseline", &headers, b"")
            .status,
        403
    );
    assert!(!folder.file("seals").exists());
}

/// Beside the fields of a measure by position stands what its figures come to, each by name,
/// and the same of the baseline for whoever asks at the retest.
#[test]
fn the_figures_of_positions_stand_beside_their_fields() {
    let folder = fan();
    let served = Served::job(&folder.path());
    let browser = served.enter();
    for step in ["/baseline/m-contribution", "/retest/m-contribution"] {
        let body = browser.get(step).body;
        assert!(
            body.contains("1:\u{a0}7.4 · 2:\u{a0}−13.1"),
            "{step}: {body}"
        );
    }
}

/// While the plan cannot be read, no page of a run can be made: that is said, with the way to the
/// plan, and what was written down comes back with it.
#[test]
fn a_page_that_needs_the_plan_says_so() {
    let folder = fan();
    let served = Served::job(&folder.path());
    let browser = served.enter();
    let name = "job.toml/machine.name";
    let was = folder.read("job.toml");
    browser.fill("/plan/machine", &[(name, &["Fan \u{1f600}"])], "next");
    let page = browser.get(STEP);
    assert!(
        page.status == 404
            && page.body.contains("The plan comes first")
            && page.body.contains("href=\"/plan/machine\""),
        "{}",
        page.body
    );
    folder.write("job.toml", was);
    assert_eq!(browser.get(STEP).status, 200);
    assert!(
        browser
            .get("/baseline/m-none")
            .body
            .contains("There is no such page")
    );
}

/// What is typed wrong stays in its field, with what to write instead; the file keeps what it had.
#[test]
fn a_number_or_a_day_typed_wrong_is_told_at_its_field() {
    let folder = fan();
    let served = Served::job(&folder.path());
    let browser = served.enter();
    let before = folder.read("baseline.toml");
    for wrong in [
        "12.8 s",
        "12.8\t13.1",
        "12 13",
        "1e3",
        "\u{1f600}",
        "twelve",
    ] {
        let answer = browser.fill(STEP, &[(DRIFT, &[wrong])], "next");
        assert_eq!(answer.status, 409, "{wrong}");
        assert!(
            answer.body.contains("This is not a number"),
            "{}",
            answer.body
        );
        assert_eq!(folder.read("baseline.toml"), before, "{wrong}");
    }
    assert_eq!(
        browser.fill(STEP, &[(DRIFT, &["1,022.5"])], "next").status,
        303
    );
    assert!(folder.read("baseline.toml").contains("value = 1022.5"));
    let day = "job.toml.received";
    let answer = browser.fill("/plan/machine", &[(day, &["25/11/2026"])], "next");
    assert!(
        answer.body.contains("Write a date: year, month, day"),
        "{}",
        answer.body
    );
}
