//! What every document has: language, paper, the fixed words, head and foot.

use chrono::{DateTime, FixedOffset};

use super::PictureFile;
use super::data::{Logo, Sheet, ShopHead};
use super::figures;
use super::words::Words;
use crate::job::{Paper, Plan, Shop};
use crate::seals::Link;

/// The sheet of a document that is not issued, whose title and kind have these ids.
pub fn sheet([title, kind]: [&str; 2], plan: &Plan, shop: &Shop, words: &Words) -> Sheet {
    let (number, machine) = (&plan.number, &plan.machine.name);
    let job = words.say_with("job-number", &[("number", number)]);
    Sheet {
        language: words.language(),
        paper: paper(shop),
        labels: words.labels(),
        title: words.say_with(title, &[("number", number), ("machine", machine)]),
        foot: format!("{job} · {}", shop.name),
        shop: shop_head(shop, None),
        head: vec![words.say(kind), job],
        own_form: None,
    }
}

/// The sheet of a document that is issued, with the day, the number of a report's issue, and
/// the shop's logo.
pub fn issued(
    ids: [&str; 2],
    plan: &Plan,
    shop: &Shop,
    logo: Option<&PictureFile>,
    (issued, issue, seal): (DateTime<FixedOffset>, Option<usize>, Option<&Link>),
    words: &Words,
) -> Sheet {
    let mut sheet = sheet(ids, plan, shop, words);
    sheet.shop = shop_head(shop, logo);
    let day = figures::day(issued.date_naive(), words);
    let (id, issue) = match issue {
        None => ("head-issued", String::new()),
        Some(issue) => ("head-issue", issue.to_string()),
    };
    let said = [
        ("number", sheet.head[1].as_str()),
        ("issue", &issue),
        ("issued", &day),
    ];
    let issued = words.say_with(id, &said);
    // A loose page finds its document by its foot.
    let serial = plan.machine.serial.as_ref();
    let serial = serial.map(|serial| words.say_with("serial", &[("serial", serial)]));
    let seal = seal.map(|link| {
        let start = link.fingerprint().start();
        words.say_with("foot-seal", &[("start", &start)])
    });
    let foot = [Some(issued.clone()), serial, seal];
    sheet.foot = foot.into_iter().flatten().collect::<Vec<_>>().join(" · ");
    sheet.head = vec![words.say(ids[1]), issued];
    sheet
}

/// The paper, as typst names it.
fn paper(shop: &Shop) -> &'static str {
    match shop.paper {
        Paper::A4 => "a4",
        Paper::UsLetter => "us-letter",
    }
}

/// The letterhead.
fn shop_head(shop: &Shop, logo: Option<&PictureFile>) -> ShopHead {
    ShopHead {
        name: shop.name.clone(),
        lines: shop_lines(shop),
        logo: logo.map(|logo| Logo {
            path: logo.path.clone(),
            aspect: logo.aspect,
        }),
        accent: shop.accent.map(|accent| accent.to_string()),
    }
}

fn shop_lines(shop: &Shop) -> Vec<String> {
    let contact: Vec<&str> = [&shop.phone, &shop.email]
        .into_iter()
        .flatten()
        .map(String::as_str)
        .collect();
    let mut lines = vec![shop.address.join(", "), contact.join(" · ")];
    lines.extend(shop.licence.clone());
    lines.retain(|line| !line.is_empty());
    lines
}
