//! Seal, receipt, identity, signature, verification, as their users meet them.

use std::fs;
use std::path::Path;

use retestify::verification::{Answer, Question, Verification, verify};

use crate::folder::{Folder, run, run_at};
use crate::story::{story, unsealed};

fn answers(found: &Verification, wanted: &[(Question, Answer)]) {
    for (question, answer) in wanted {
        assert_eq!(found.answer(*question), *answer, "{question:?}: {found:#?}");
    }
}

fn at(folder: &Path) -> &str {
    folder.to_str().unwrap()
}

#[test]
fn a_sound_report_is_answered_yes_to_everything_that_can_be_known() {
    let story = story();
    let folder = retestify::files::Folder::open(&story.path("job")).unwrap();
    let expected = retestify::verification::Expected {
        folder: Some(&folder),
        ..story.known()
    };
    let found = verify(&story.report, &expected);
    use Question::*;
    for question in [
        Intact,
        Signer,
        ExpectedSigner,
        Files,
        Chain,
        Limits,
        Fingerprint,
        Result,
        ListedFiles,
    ] {
        answers(&found, &[(question, Answer::Yes)]);
    }
    answers(&found, &[(Time, Answer::NotAsked)]);
    assert_eq!(found.overall(), Answer::Yes);

    let receipt = verify(&story.receipt, &story.known());
    answers(
        &receipt,
        &[
            (Intact, Answer::Yes),
            (ExpectedSigner, Answer::Yes),
            (Files, Answer::Yes),
            (Chain, Answer::Yes),
            (Fingerprint, Answer::Yes),
            (Result, Answer::NotAsked),
        ],
    );
    assert_eq!(receipt.overall(), Answer::Yes);
}

#[test]
fn the_demonstration_ends_with_an_altered_copy_that_is_found_out() {
    let story = story();
    let check = run(&["check", at(&story.path("altered"))]);
    assert_eq!(check.code, 1);
    let named = "(baseline.toml), changed after sealing with the baseline";
    let told = check.out.replace('\n', " ");
    assert!(told.contains(named), "{told}");

    let report = story.path("altered/report.pdf");
    let certificate = story.path("shop.pem");
    let verified = run(&["verify", at(&report), "--trust", at(&certificate)]);
    assert_eq!(verified.code, 1);
    let named = "baseline.toml is not the file that was sealed (baseline)";
    assert!(verified.out.contains(named), "{}", verified.out);

    // The untouched one passes for whoever knows the shop, and only for them.
    let report = story.path("job/report.pdf");
    let receipt = story.path("job/receipt.pdf");
    let known = ["--trust", at(&certificate), "--receipt", at(&receipt)];
    let args = [&["verify", at(&report)][..], &known].concat();
    assert_eq!(run(&args).code, 0);
    let unknown = run(&["verify", at(&report)]);
    assert_eq!(unknown.code, 3, "anybody can make a key in any name");
    let json = run(&[&args[..], &["--json"]].concat());
    let json: serde_json::Value = serde_json::from_str(&json.out).unwrap();
    assert_eq!(json["findings"][0]["question"], "intact");
    assert_eq!(json["findings"][0]["answer"], "yes");
}

#[test]
fn sealing_refuses_what_would_prove_nothing() {
    let folder = unsealed("frost-fan");
    let path = at(folder.path());
    let early = run(&["seal", "retest", path]);
    assert_eq!(early.code, 2);
    assert!(
        early.err.contains("the baseline is not sealed"),
        "{}",
        early.err
    );

    let broken = folder.path().join("limits.toml");
    let sound = fs::read(&broken).unwrap();
    fs::write(&broken, "format = 1\n").unwrap();
    let faulty = run(&["seal", "baseline", path]);
    assert_eq!(faulty.code, 2);
    assert!(faulty.err.contains("limits.toml"), "{}", faulty.err);
    assert!(!folder.path().join("seals").exists(), "nothing was written");
    fs::write(&broken, sound).unwrap();

    // Work and retest are not there yet when a baseline is sealed.
    for file in ["work.toml", "retest.toml"] {
        fs::rename(
            folder.path().join(file),
            folder.path().join(format!("{file}.later")),
        )
        .unwrap();
    }
    let sealed = run(&["seal", "baseline", path]);
    assert_eq!(sealed.code, 0, "{}", sealed.err);
    assert!(sealed.out.contains("fingerprint "), "{}", sealed.out);
    assert!(sealed.out.contains("not signed"), "{}", sealed.out);
    let again = run(&["seal", "baseline", path]);
    assert_eq!(again.code, 2);
    assert!(again.err.contains("already sealed"), "{}", again.err);

    for file in ["work.toml", "retest.toml"] {
        fs::rename(
            folder.path().join(format!("{file}.later")),
            folder.path().join(file),
        )
        .unwrap();
    }
    let limits = fs::read_to_string(&broken).unwrap();
    fs::write(&broken, limits.replace("max = 5.0", "max = 9.0")).unwrap();
    let loosened = run(&["seal", "retest", path]);
    assert_eq!(loosened.code, 2);
    assert!(
        loosened
            .err
            .contains("limits.toml was changed after it was sealed"),
        "{}",
        loosened.err
    );

    let amended = run(&[
        "seal",
        "baseline",
        path,
        "--amend",
        "The customer agreed to 9 s",
    ]);
    assert_eq!(amended.code, 0, "{}", amended.err);
    assert_eq!(run(&["seal", "retest", path]).code, 0);
    let check = run(&["check", path]);
    assert!(
        check.out.contains("The customer agreed to 9 s"),
        "{}",
        check.out
    );
    let report = folder.path().join("report.pdf");
    assert_eq!(run(&["report", path]).code, 0);
    // The receipt of the amendment stands beside the older one, which is of other limits.
    let receipt = folder.path().join("receipt-2.pdf");
    let verified = run(&["verify", at(&report), "--receipt", at(&receipt)]);
    let yes = "Does the baseline match the customer's receipt?       yes";
    assert!(verified.out.contains(yes), "{}", verified.out);
    let old = folder.path().join("receipt.pdf");
    let by_old = run(&["verify", at(&report), "--receipt", at(&old)]);
    let by_old_name = run(&["verify", at(&report), "--slip", at(&old)]);
    assert_eq!(by_old_name.out, by_old.out);
    let named = by_old.out.replace('\u{a0}', " ");
    let named = named.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        named.contains("2-baseline.sha256 replaced it") && named.contains("in limits.toml"),
        "{named}"
    );
    // What the limit was, and what it is now; and nothing of what is the same.
    let limit = "Crank time to running (s), limit: receipt at most 5.0 s";
    assert!(
        named.contains(limit) && named.contains("this document at most 9.0 s"),
        "{named}"
    );
    let told = "The receipt that was given shows";
    assert!(
        named.contains(told) && !verified.out.contains(told),
        "{}",
        verified.out
    );
    assert_eq!(
        verified.code, 1,
        "the limits are not those of the first seal"
    );
    assert!(
        verified.out.contains("The customer agreed to 9 s"),
        "{}",
        verified.out
    );
}

/// An odd end in each way: half a folder, a lost file, a file that comes back.
#[test]
fn a_sealed_file_that_is_gone_or_changed_is_named_by_file_and_stage() {
    let copy = story().copy();
    let work = copy.path().join("work.toml");
    let text = fs::read_to_string(&work).unwrap();
    fs::write(&work, format!("{text}\n")).unwrap();
    let check = run(&["check", at(copy.path())]);
    assert_eq!(check.code, 1);
    let told = check.out.replace('\n', " ");
    assert!(
        told.contains("(work.toml), changed after sealing with the retest"),
        "{told}"
    );
    fs::write(&work, text).unwrap();
    assert_eq!(run(&["check", at(copy.path())]).code, 0);

    let seal = copy.path().join("seals/1-baseline.sha256");
    let text = fs::read_to_string(&seal).unwrap();
    fs::write(&seal, text.replace("08:20:00", "08:21:00")).unwrap();
    let check = run(&["check", at(copy.path())]);
    assert_eq!(check.code, 1);
    let told = check.out.replace('\n', " ");
    assert!(
        told.contains("2-retest.sha256 does not match the seal before it"),
        "{told}"
    );
}

/// Recordings may be of any size; they are sealed and listed, not read.
#[test]
fn a_recording_is_sealed_and_checked_with_the_folder() {
    let folder = unsealed("frost-fan");
    fs::create_dir(folder.path().join("captures")).unwrap();
    let video = folder.path().join("captures/first start.mp4");
    fs::write(&video, vec![7; 3 << 20]).unwrap();
    let baseline = folder.path().join("baseline.toml");
    let text = fs::read_to_string(&baseline).unwrap();
    let table =
        "\n[[recording]]\nfile = \"captures/first start.mp4\"\ncaption = \"The first start\"\n";
    fs::write(&baseline, text + table).unwrap();
    let path = at(folder.path());
    assert_eq!(run(&["seal", "baseline", path]).code, 0);
    let seal = fs::read_to_string(folder.path().join("seals/1-baseline.sha256")).unwrap();
    assert!(seal.contains("  captures/first start.mp4\n"), "{seal}");
    assert_eq!(run(&["seal", "retest", path]).code, 0);
    assert_eq!(run(&["report", path]).code, 0);
    let report = folder.path().join("report.pdf");
    let with = run(&["verify", at(&report), "--with", path]);
    assert_eq!(with.code, 3, "unsigned: {}", with.out);
    assert!(with.out.contains("4 files are unchanged"), "{}", with.out);
    fs::write(&video, vec![8; 3 << 20]).unwrap();
    let with = run(&["verify", at(&report), "--with", path]);
    assert_eq!(with.code, 1);
    assert!(
        with.out.contains("captures/first start.mp4 was changed"),
        "{}",
        with.out
    );
    fs::remove_file(&video).unwrap();
    let gone = run(&["check", path]);
    assert_eq!(gone.code, 2);
    assert!(
        gone.err.contains("recording `captures/first start.mp4`"),
        "{}",
        gone.err
    );
}

#[test]
fn an_identity_is_made_shown_exported_and_never_overwritten() {
    let temp = tempfile::tempdir().unwrap();
    let folder = temp.path().join("keys/identity");
    let passphrase = temp.path().join("passphrase");
    fs::write(&passphrase, "correct horse\n").unwrap();
    let made = with_passphrase(
        &passphrase,
        &[
            "identity",
            "new",
            "Müller & Söhne",
            "--identity",
            at(&folder),
        ],
    );
    assert_eq!(made.code, 0, "{}", made.err);
    assert!(made.out.contains("Müller & Söhne"), "{}", made.out);
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        let mode = |path: &Path| fs::metadata(path).unwrap().permissions().mode() & 0o777;
        assert_eq!(mode(&folder), 0o700);
        assert_eq!(mode(&folder.join("key.pem")), 0o600);
    }
    let shown = run(&["identity", "show", "--identity", at(&folder)]);
    let exported = temp.path().join("shop.pem");
    assert_eq!(
        run(&[
            "identity",
            "export",
            at(&exported),
            "--identity",
            at(&folder)
        ])
        .code,
        0
    );
    let certificate =
        retestify::signature::ShopCertificate::read(&fs::read(&exported).unwrap()).unwrap();
    assert!(
        shown.out.contains(&certificate.fingerprint().to_string()),
        "{}",
        shown.out
    );

    let key = fs::read(folder.join("key.pem")).unwrap();
    let again = with_passphrase(
        &passphrase,
        &["identity", "new", "Other", "--identity", at(&folder)],
    );
    assert_eq!(again.code, 2);
    assert!(
        again.err.contains("already holds an identity"),
        "{}",
        again.err
    );
    assert_eq!(fs::read(folder.join("key.pem")).unwrap(), key);
}

fn with_passphrase(file: &Path, args: &[&str]) -> crate::folder::Run {
    let line = format!(
        "exec 3<'{}'; exec '{}' \"$@\" --passphrase-fd 3",
        file.display(),
        env!("CARGO_BIN_EXE_retestify")
    );
    crate::folder::run_with("sh", &[&["-c", line.as_str(), "sh"], args].concat())
}

/// Same inputs, same clock, same key: the same bytes.
#[test]
fn a_signed_report_is_the_same_again() {
    let story = story();
    let copy = story.copy();
    let first = story.report_of(copy.path());
    assert_eq!(first, story.report_of(copy.path()));
}

#[test]
fn an_authority_that_is_away_stops_nothing_and_is_mentioned() {
    let story = story();
    let copy = story.copy();
    let shop = copy.path().join("shop.toml");
    let text = fs::read_to_string(&shop).unwrap();
    // Port 9 of this machine: nobody listens there.
    fs::write(
        &shop,
        text.clone() + "time_stamp = \"http://127.0.0.1:9/stamp\"\n",
    )
    .unwrap();
    let made = story.signing(&["report", at(copy.path()), "--replace"]);
    assert_eq!(made.code, 0, "{}", made.err);
    assert!(made.err.contains("gave no time-stamp"), "{}", made.err);
    let found = verify(
        &fs::read(copy.path().join("report.pdf")).unwrap(),
        &story.known(),
    );
    answers(
        &found,
        &[
            (Question::Intact, Answer::Yes),
            (Question::Time, Answer::NotAsked),
        ],
    );

    fs::write(&shop, text + "time_stamp = \"https://stamp.example\"\n").unwrap();
    let wrong = run(&["check", at(copy.path())]);
    assert_eq!(wrong.code, 2);
    assert!(
        wrong.err.contains("is not an `http://` address"),
        "{}",
        wrong.err
    );
}

/// A seal that would break the chain is not made: it could not be taken back.
#[test]
fn an_amendment_keeps_the_number_of_the_job() {
    let folder = Folder::copy_of("frost-fan");
    let path = folder.path();
    let path = path.to_str().unwrap();
    assert_eq!(run(&["seal", "baseline", path, "--unsigned"]).code, 0);
    folder.replace("job.toml", "E-0412", "E-0413");
    let made = run(&[
        "seal",
        "baseline",
        path,
        "--unsigned",
        "--amend",
        "renumbered",
    ]);
    assert_eq!(made.code, 2, "{}", made.err);
    assert!(made.err.contains("would break the chain"), "{}", made.err);
    assert!(
        made.err.contains("keeps the number under which"),
        "{}",
        made.err
    );
    assert_eq!(fs::read_dir(folder.file("seals")).unwrap().count(), 1);
}

/// Sealed in time, and amended after the work: what was not changed is still sealed first.
/// The receipt of the amendment stands beside the first, also when it is made again.
#[test]
fn an_amendment_after_the_work_leaves_the_first_seal_its_worth() {
    let folder = Folder::copy_of("frost-fan");
    let path = folder.path();
    let path = path.to_str().unwrap();
    // 20 January 2026, 08:20 UTC.
    let program = env!("CARGO_BIN_EXE_retestify");
    let sealed = run_at(
        "1768897200",
        program,
        &["seal", "baseline", path, "--unsigned"],
    );
    assert_eq!(sealed.code, 0, "{}", sealed.err);
    folder.replace("baseline.toml", "value = 12.8", "value = 12.9");
    let why = ["seal", "baseline", path, "--unsigned", "--amend", "misread"];
    assert_eq!(run(&why).code, 0);
    let text = folder.check().out;
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        text.contains("The sealed record was changed after the work had started."),
        "{text}"
    );
    assert!(text.contains("changed (baseline.toml)"), "{text}");
    assert!(!text.contains("sealed only after"), "{text}");
    let first = fs::read(folder.file("receipt.pdf")).unwrap();
    for command in ["receipt", "slip"] {
        assert_eq!(run(&[command, path, "--unsigned", "--replace"]).code, 0);
    }
    assert_eq!(fs::read(folder.file("receipt.pdf")).unwrap(), first);
}

/// A figure that was "a typing error" after the retest was sealed: page 1 says so, with the
/// reason, and so does the command that seals.
#[test]
fn an_amended_retest_is_told_on_page_1() {
    let job = story().copy();
    let path = at(job.path());
    let retest = job.path().join("retest.toml");
    let text = fs::read_to_string(&retest).unwrap();
    fs::write(&retest, text.replacen("value = 11.0", "value = 10.0", 1)).unwrap();
    let why = ["seal", "retest", path, "--amend", "A typing error."];
    let sealed = run(&why);
    assert_eq!(sealed.code, 0, "{}", sealed.err);
    let told = "changed (retest.toml) and sealed again: A typing error.";
    let said = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(said(&sealed.out).contains(told), "{}", sealed.out);
    let report = story().report_of(job.path());
    let page_1 = &crate::pages::texts(&report)[0];
    assert!(page_1.contains(&crate::pages::bare(told)), "{page_1}");
}

/// A broken seal heads the page, whatever the figures say.
#[test]
fn a_broken_seal_heads_page_1() {
    let folder = Folder::copy_of("frost-fan");
    let path = folder.path();
    let path = path.to_str().unwrap();
    assert_eq!(run(&["seal", "baseline", path, "--unsigned"]).code, 0);
    folder.replace("baseline.toml", "value = 12.8", "value = 12.9");
    let shown = folder.check();
    assert_eq!(shown.code, 1);
    assert!(
        shown
            .out
            .contains("The sealed record was changed. Do not rely on this report"),
        "{}",
        shown.out
    );
    assert!(!shown.out.contains("Verified"), "{}", shown.out);
}

/// What has no limit does not miss it, on the receipt neither.
#[test]
fn a_figure_without_a_limit_misses_none_on_the_receipt() {
    let folder = Folder::copy_of("cold-store-generator");
    folder.replace(
        "limits.toml",
        "max_opacity_percent = 20",
        "max_clear_seconds = 20",
    );
    for file in ["baseline.toml", "retest.toml"] {
        let text = folder
            .read(file)
            .replace("opacity_percent =", "clear_seconds = 30\nopacity_percent =");
        folder.write(file, text);
    }
    let path = folder.path();
    let shown = run(&["check", path.to_str().unwrap(), "--baseline"]);
    assert_eq!(shown.code, 0, "{}", shown.err);
    let text = shown.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(text.contains("for information"), "{text}");
}

/// Whoever checks a receipt is told the figures of the positions, too.
#[test]
fn a_receipt_is_told_with_the_figures_of_its_positions() {
    let story = story();
    let receipt = story.path("job/receipt.pdf");
    let told = run(&["verify", at(&receipt), "--json"]).out;
    let told: serde_json::Value = serde_json::from_str(&told).unwrap();
    let required = told.pointer("/document/told/required");
    let required = required.and_then(|it| it.as_array()).unwrap();
    let before: Vec<&str> = required
        .iter()
        .filter_map(|it| it["before"].as_str())
        .collect();
    assert!(
        before.contains(&"1:\u{a0}7.4 · 2:\u{a0}−13.1 · 3:\u{a0}−2.9 · 4:\u{a0}8.6"),
        "{before:?}"
    );
}

/// The issue of a report is told to whoever checks it, and what its shop is called is held
/// against the name in the certificate, on page 1 and on the receipt.
#[test]
fn the_issue_and_the_name_in_the_certificate() {
    let story = story();
    let job = story.copy();
    let told = |path: &Path| -> serde_json::Value {
        let told = run(&["verify", path.to_str().unwrap(), "--json"]).out;
        serde_json::from_str(&told).unwrap()
    };
    let of = |name: &str| told(&story.path("job").join(name))["document"]["told"]["issue"].clone();
    assert_eq!(of("report.pdf"), 1);
    assert_eq!(of("receipt.pdf"), serde_json::Value::Null);
    let (work, shop) = (job.path().join("work.toml"), job.path().join("shop.toml"));
    let text = fs::read_to_string(&work).unwrap();
    let why = "reissued = [\"The meter was missing.\"]";
    fs::write(
        &work,
        text.replacen("format = 1", &format!("format = 1\n{why}"), 1),
    )
    .unwrap();
    let page_1 = |report: &[u8]| crate::pages::texts(report)[0].clone();
    let other = "The certificate does not name";
    let says = |page: &str, text: &str| page.contains(&crate::pages::bare(text));
    let page = page_1(&story.report_of(job.path()));
    assert!(
        says(&page, "issue 2 of") && says(&page, "“The meter was missing.”"),
        "{page}"
    );
    assert!(!says(&page, other), "{page}");
    assert_eq!(
        told(&job.path().join("report.pdf"))["document"]["told"]["issue"],
        2
    );
    let text = fs::read_to_string(&shop).unwrap();
    let own = "Tamsin Orrell Engine Bench";
    // In other case it is the same name, and a longer one has it in it.
    for (name, is_other) in [
        ("TAMSIN ORRELL ENGINE BENCH", false),
        ("Tamsin Orrell", false),
        ("Kestrel Diesel", true),
    ] {
        fs::write(&shop, text.replacen(own, name, 1)).unwrap();
        let page = page_1(&story.report_of(job.path()));
        assert_eq!(says(&page, &format!("{other} {name}.")), is_other, "{page}");
    }
    let receipt = ["receipt", job.path().to_str().unwrap(), "--replace"];
    assert_eq!(story.signing(&receipt).code, 0);
    let page = page_1(&fs::read(job.path().join("receipt.pdf")).unwrap());
    assert!(says(&page, "does not name Kestrel Diesel."), "{page}");
}
