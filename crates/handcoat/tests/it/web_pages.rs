//! Every page: it answers, holds no code, each form is sealed, each field has a label, and markup in a name stays a name.

use handcoat::web::{READ, WRITTEN};

use crate::books::on;
use crate::web::{Answered, House, Tag, tags};

/// A name that would be markup, a script and a way out of an attribute if somebody let it.
const HOSTILE: &str = "\"><img src=x onerror=alert(1)><!--";

/// Addresses of every page that is read, with what they ask for filled in.
fn addresses(house: &House) -> Vec<String> {
    let shelf = house.get("/shelf").text;
    let items: Vec<String> = tags(&shelf)
        .iter()
        .filter_map(|tag| tag.get("href"))
        .filter(|href| href.starts_with("/shelf/"))
        .map(String::from)
        .collect();
    assert!(items.len() >= 3, "{items:?}");
    let mut found: Vec<String> = Vec::new();
    for address in READ {
        match *address {
            "/shelf/{code}" => found.extend(items.iter().cloned()),
            "/session/{number}" => {
                found.extend(["/session/1", "/session/1?print=2", "/session/1?hand=2"].map(String::from))
            }
            "/session/{number}/plan" => found.push("/session/1/plan".into()),
            "/stock/plan/sheet"
            | "/coat/sheet"
            | "/session/{number}/sheet"
            | "/shelf/{code}/label"
            | "/emergency/page" => {}
            "/print/photo/{sha256}" => {}
            // One that is entered by hand; what a file of it adds is looked at in `web_negative`.
            "/negative/{number}" => found.push("/negative/1".into()),
            "/negative/{number}/small" | "/negative/{number}/file" => {}
            "/expose/strip/sheet" | "/expose/tests/{number}/sheet" => {}
            "/tone/{number}/link" | "/tone/{number}/profile" | "/negative/proof/before" | "/negative/proof/after" => {}
            // Handed out after a scan was read: looked at in `web_chart`.
            "/tone/read/{sha256}" => {}
            "/tone/{number}/curve" | "/tone/{number}/report" | "/tone/levels" | "/tone/{number}/levels" => {}
            "/tone/{number}" | "/tone/{number}/verify" | "/tone/{number}/next" => {
                found.push(address.replace("{number}", "1"));
            }
            "/expose/strip/bench" => {
                found.extend(
                    ["", "&at=4", "&at=dry"].map(|at| format!("/expose/strip/bench?first=2:00&until=8:00{at}")),
                );
            }
            "/expose/tests/{number}" => found.extend(["/expose/tests/1", "/expose/tests/2"].map(String::from)),
            "/print/{number}" => found.extend(["/print/1", "/print/2", "/print/2?act=9"].map(String::from)),
            "/print/{number}/repeat" => {
                found.extend(
                    ["/print/1/repeat", "/print/1/repeat?image=20x25cm&room_humidity=60%25", "/print/2/repeat"]
                        .map(String::from),
                );
            }
            "/keep/{kind}" => {
                found.extend(
                    ["paper", "tool", "dropper", "lamp", "bath", "supply", "negative", "setup"]
                        .map(|kind| format!("/keep/{kind}")),
                );
            }
            "/keep/{kind}/{number}" => {
                found.extend(["/keep/paper/1", "/keep/lamp/1", "/keep/bath/1"].map(String::from))
            }
            "/bench/{work}" => found.extend(["/bench/1", "/bench/1?typed=3.9", "/bench/1?typed="].map(String::from)),
            plain => found.push(plain.into()),
        }
    }
    for more in [
        "/session?repeat=1&prints=3",
        "/stock/plan?salt=PdCl2&make=60mL&balance=0.01g",
        "/stock/plan?salt=PdCl2&make=60mL&balance=0.01g&weighed=5.92g&bottle=100mL&price=48EUR/g",
        "/stock/plan?salt=K2PtCl4&salt_mass=5g",
        "/stock/plan?salt=ferric+oxalate&make=25mL&and=KClO3%3D0.3g&balance=0.01g",
        "/coat?image=8x10in&metal=bought&iron=iron&margin=1cm&title=Heron",
        "/coat?image=8x10in&metal=bought&metal=Pt&ratio=1:1&ratio_by=moles&double=yes&sheets=3&loss=20%25",
        "/coat?image=8x10in&metal=Pd&contrast=H2O2&dose=1mg%2FmL&within=5%25",
        "/coat/made?title=Heron&image=8x10in&pour=bought%3D23&pour=iron%3D23",
        "/ledger?price=Pd+38EUR%2Fg&most=500",
        "/expose/wedge?test_time=4:00&d1=1.4&d2=1.39&d3=1.3&d4=1.0&d5=0.5&d6=0.2&d7=0.1&d8=0.1",
        "/expose/wedge?how=paste&test_time=4:00&readings=1.4%0A1.3%0A0.9%0A0.5%0A0.1",
        "/expose/wedge?tablet=31&steps_of=ink&test_time=4:00&d1=1.4&d2=1.39&d3=1.0&d4=0.2",
        "/expose/eye?test_time=4:00&last_black=5&last_tone=15",
        "/expose/strip?first=2:00&until=8:00",
        "/expose/strip?first=2:00&until=8:00&tapped=5",
        "/expose/strip?first=2:00&until=8:00&tapped=none",
        "/tone/new?readings=0+22%0A0.25+38%0A0.5+62%0A0.75+84%0A1+93&target=density",
        "/tone/1/verify?readings=0+22%0A0.25+38%0A0.5+60%0A0.75+77%0A1+93",
        "/tone/1/next?patch=8mm&most=3",
        "/tone/chart?levels=24&curve=1",
        "/tone?setup=1",
        "/expose/ladder?setup=1&range=1.6",
        "/print/new?setup=1",
        "/coat?image=8x10in&metal=bought&iron=iron&setup=rag%2C+palladium",
        "/?act=1",
        "/print?find=heron",
        "/print?find=heron&before=2",
        "/print/new?like=last",
        "/print/new?coat=1",
        "/print/new?like=1&repeats=1&bottle-0=iron&drops-0=12",
        "/print/compare?first=1&second=2&shows=darker",
    ] {
        found.push(more.into());
    }
    found
}

/// Words between two tags that are no markup: what a script or style element would hold.
fn inside<'p>(page: &'p str, tag: &Tag) -> &'p str {
    page.get(tag.end..).and_then(|rest| rest.split('<').next()).unwrap_or_default().trim_start_matches('>').trim()
}

/// Whether a form is sent to an address that takes forms.
fn is_taken(action: &str) -> bool {
    let fits = |address: &&&str| {
        let (pattern, parts): (Vec<&str>, Vec<&str>) =
            (address.split('/').collect(), action.split('#').next().unwrap_or_default().split('/').collect());
        pattern.len() == parts.len()
            && pattern.iter().zip(&parts).all(|(own, part)| own == part || own.starts_with('{'))
    };
    WRITTEN.iter().any(|address| fits(&address))
}

pub(crate) fn looks_sound(path: &str, answer: &Answered) {
    let page = &answer.text;
    let all = tags(page);
    let named = |name: &str| all.iter().filter(|tag| tag.name == name).count();
    // A drawing has a title of its own.
    let titles = page.split("</head>").next().unwrap_or_default().matches("<title>").count();
    assert_eq!((named("h1"), named("main"), titles), (1, 1, 1), "{path}: {page}");
    let html = all.iter().find(|tag| tag.name == "html").expect("html");
    assert_eq!(html.get("lang"), Some("en"), "{path}");
    assert_eq!(named("style"), 0, "{path} holds a style");
    let ids: Vec<&str> = all.iter().filter_map(|tag| tag.get("id")).collect();
    for tag in &all {
        for (attribute, value) in &tag.attributes {
            assert!(attribute != "style" && !attribute.starts_with("on"), "{path}: {tag:?}");
            assert!(!value.trim_start().to_lowercase().starts_with("javascript:"), "{path}: {tag:?}");
            let points = matches!(attribute.as_str(), "for" | "aria-describedby");
            for id in value.split(' ').filter(|_| points) {
                assert_eq!(ids.iter().filter(|own| **own == id).count(), 1, "{path}: {tag:?} points to `{id}`");
            }
        }
        match tag.name.as_str() {
            "script" => {
                assert!(tag.get("src").is_some_and(|src| src.starts_with("/assets/")), "{path}: {tag:?}");
                assert_eq!(inside(page, tag), "", "{path} holds a script");
            }
            "textarea" => {
                let id = tag.get("id").expect("an id");
                let labels = all.iter().filter(|own| own.name == "label" && own.get("for") == Some(id)).count();
                assert_eq!(labels, 1, "{path}: {tag:?} has {labels} labels");
            }
            "select" | "datalist" | "iframe" | "object" | "embed" | "img" | "base" => {
                panic!("{path}: {tag:?}")
            }
            "input" if tag.get("type") == Some("file") => {
                let id = tag.get("id").expect("an id");
                assert!(all.iter().any(|own| own.name == "label" && own.get("for") == Some(id)), "{path}: {tag:?}");
                let carries = |own: &Tag| own.get("enctype") == Some("multipart/form-data");
                assert!(all.iter().any(|own| own.name == "form" && carries(own)), "{path}: a file nobody sends");
            }
            "input" if !matches!(tag.get("type"), Some("hidden")) => {
                let id = tag.get("id").unwrap_or_else(|| panic!("{path}: {tag:?} has no id"));
                let labels = all.iter().filter(|own| own.name == "label" && own.get("for") == Some(id)).count();
                assert_eq!(labels, 1, "{path}: {tag:?} has {labels} labels");
                assert!(matches!(tag.get("type"), Some("text" | "radio" | "checkbox")), "{path}: {tag:?}");
            }
            _ => {}
        }
    }
    for form in page.split("<form").skip(1).map(|form| form.split("</form>").next().unwrap_or_default()) {
        let inputs = tags(&format!("<form{form}"));
        let value =
            |name: &str| inputs.iter().find(|tag| tag.get("name") == Some(name)).and_then(|tag| tag.get("value"));
        if inputs[0].get("method") == Some("post") {
            assert!(inputs[0].get("action").is_some_and(is_taken), "{path}: {form}");
            assert!(value("token").is_some_and(|token| token.len() == 64), "{path}: {form}");
            assert!(value("key").is_some_and(|key| key.len() > 20), "{path}: {form}");
        } else {
            assert_eq!(
                (inputs[0].get("method"), value("token"), value("key")),
                (Some("get"), None, None),
                "{path}: {form}"
            );
        }
    }
}

#[test]
fn every_page_of_a_filled_book_is_sound_and_reading_writes_nothing() {
    let house = House::filled("web-pages");
    let before = house.written();
    let mut keys = Vec::new();
    for path in addresses(&house) {
        let answer = house.get(&path);
        assert_eq!(answer.status, 200, "{path}: {}", answer.text);
        looks_sound(&path, &answer);
        keys.extend(
            tags(&answer.text)
                .iter()
                .filter(|tag| tag.get("name") == Some("key"))
                .filter_map(|tag| tag.get("value").map(String::from)),
        );
    }
    let sheet = house.get("/stock/plan/sheet?salt=PdCl2&make=60mL&balance=0.01g");
    assert_eq!((sheet.status.as_u16(), sheet.header("content-type")), (200, "application/pdf"));
    assert!(sheet.bytes.starts_with(b"%PDF-"));
    for path in ["/shelf/00013/label", "/emergency/page"] {
        let sheet = house.get(path);
        assert_eq!((sheet.status.as_u16(), sheet.header("content-type")), (200, "application/pdf"), "{path}");
        assert!(sheet.bytes.starts_with(b"%PDF-"), "{path}");
    }
    assert!(house.written() == before, "reading a page wrote to the book");
    let all = keys.len();
    keys.sort_unstable();
    keys.dedup();
    assert!(all > 60 && keys.len() == all, "{} of {all} keys are different", keys.len());
}

#[test]
fn every_page_of_a_new_book_leads_on() {
    let house = House::new("web-pages-new");
    for path in ["/", "/shelf", "/ledger"] {
        let answer = house.get(path);
        looks_sound(path, &answer);
        assert!(answer.text.contains("href=\"/receive\""), "{path} leads nowhere");
    }
    assert!(house.get("/stock/plan").text.contains("The sheet stands here"));
}

#[test]
fn markup_in_a_name_stays_a_name_on_every_page() {
    let house = House::filled("web-pages-hostile");
    on(
        &house.book,
        &[
            "stock",
            "receive",
            "PdCl2",
            "--mass",
            "2g",
            "--name",
            HOSTILE,
            "--note",
            HOSTILE,
            "--supplier",
            HOSTILE,
            "--lot",
            HOSTILE,
        ],
    );
    on(
        &house.book,
        &["stock", "receive", "Na2PdCl4", "--volume", "9mL", "--percent", "15", "--name", "<script>alert(1)</script>"],
    );
    let kept = house.post("/settings", &[("studio", HOSTILE), ("emergency_number", HOSTILE), ("balance", "0.01g")]);
    assert_eq!(kept.status, 303, "{}", kept.text);
    let mut shown = 0;
    let asked = crate::web::encoded(&[("salt", HOSTILE), ("make", HOSTILE), ("balance", "<b>")]);
    let mut all = addresses(&house);
    all.extend([
        format!("/stock/plan?{asked}"),
        format!("/ledger?price={}", asked.replace('&', "%26")),
        format!("/?{asked}"),
    ]);
    for path in all {
        let answer = house.get(&path);
        assert!(matches!(answer.status.as_u16(), 200 | 400), "{path}: {}", answer.status);
        looks_sound(&path, &answer);
        assert!(
            !answer.text.contains("<img") && !answer.text.contains("<!--") && !answer.text.contains("<script>"),
            "{path}"
        );
        shown += usize::from(answer.text.contains("&lt;img src=x"));
    }
    assert!(shown >= 20, "it was shown on {shown} pages only: the test looks at nothing");
    let refused = house.post("/receive", &[("formula", HOSTILE), ("mass", HOSTILE), ("name", HOSTILE)]);
    assert_eq!(refused.status, 400);
    looks_sound("/receive", &refused);
}

/// The code of an item by its name.
fn code(house: &House, name: &str) -> String {
    let page = house.get("/shelf").text;
    let before = page.split(&format!("\">{name}</a>")).next().expect("the name");
    before.rsplit("/shelf/").next().expect("its code").to_owned()
}

#[test]
fn every_form_does_what_it_says_once_and_can_be_taken_back() {
    let house = House::filled("web-pages-forms");
    let key = [("key", "the-key-of-one-jar")];
    let jar = [
        &key[..],
        &[("formula", "PdCl2"), ("mass", "2,5 g"), ("price", "120 EUR"), ("name", "Heron"), ("purity", "99%")],
    ]
    .concat();
    let (first, second) = (house.post("/receive", &jar), house.post("/receive", &jar));
    assert_eq!((first.status.as_u16(), second.status.as_u16()), (303, 303), "{}", first.text);
    assert_eq!(first.header("location"), second.header("location"), "the same key twice does it once");
    let after = house.get(first.header("location"));
    assert!(after.text.contains("Heron is on the shelf: 2.5 g."), "{}", after.text);
    assert!(after.text.contains("120.00 EUR"), "{}", after.text);

    let heron = code(&house, "Heron");
    let (stock, bought) = (code(&house, "palladium stock"), code(&house, "bought"));
    for (item, act, answers, said) in [
        (&heron, "sweep", &[("mass", "0.02g"), ("into", "Heron swept")][..], "is now in Heron swept"),
        (&heron, "count", &[("mass", "2g"), ("balance", "0.01g")], "are missing and stand as unexplained"),
        (&heron, "lose", &[("amount", "0.1g"), ("residue", "yes")], "kept as residue"),
        (&stock, "look", &[("verdict", "clear")], "palladium stock is clear"),
        (&stock, "test", &[("test", "strip"), ("verdict", "failed")], "failed the strip test"),
        (&stock, "dilute", &[("water", "2,5 mL")], "Added 2.5 mL of water"),
        (&stock, "split", &[("volume", "10mL"), ("name", "Tern")], "is now Tern"),
        (&stock, "pour", &[("into", bought.as_str()), ("volume", "1mL")], "into bought"),
        (&stock, "count", &[("volume", "45mL"), ("evaporated", "yes")], "of water went off"),
        (&bought, "retire", &[], "bought is put away"),
    ] {
        let done = house.post(&format!("/shelf/{item}/{act}"), answers);
        assert_eq!(done.status, 303, "{act}: {}", done.text);
        let page = house.get(done.header("location"));
        assert!(page.text.contains(said), "{act}: {}", page.text);
        let act_number = done.header("location").rsplit('=').next().expect("a number").to_owned();
        assert!(page.text.contains(&format!("name=\"act\" value=\"{act_number}\"")), "{act} cannot be taken back");
        let undone = house.post("/undo", &[("act", &act_number)]);
        assert_eq!(undone.status, 303, "{act}: {}", undone.text);
        assert!(house.get(undone.header("location")).text.contains("is taken back"), "{act}");
    }
}

#[test]
fn a_refusal_stands_beside_its_field_and_nothing_typed_is_lost() {
    let house = House::filled("web-pages-refused");
    let refused =
        house.post("/receive", &[("formula", "PdXl2"), ("mass", "10 g"), ("name", "Heron"), ("note", "from the fair")]);
    assert_eq!(refused.status, 400);
    let all = tags(&refused.text);
    let field = |name: &str| all.iter().find(|tag| tag.get("name") == Some(name)).expect("a field");
    assert_eq!(field("formula").get("aria-invalid"), Some("true"));
    assert_eq!(field("mass").get("aria-invalid"), None);
    for (name, value) in [("formula", "PdXl2"), ("mass", "10 g"), ("name", "Heron"), ("note", "from the fair")] {
        assert_eq!(field(name).get("value"), Some(value), "{name}");
    }
    let slot =
        field("formula").get("aria-describedby").expect("described").split(' ').next_back().expect("a slot").to_owned();
    let beside = refused.text.split(&format!("id=\"{slot}\"")).nth(1).expect("the slot");
    assert!(beside.split("class=\"ask\"").next().expect("up to the next").contains("element_unknown"), "{beside}");

    let stock = code(&house, "palladium stock");
    for (path, answers, status, code) in [
        (format!("/shelf/{stock}/split"), &[("volume", "900mL")][..], 422, "more_than_held"),
        (format!("/shelf/{stock}/pour"), &[], 400, "answer_missing"),
        (format!("/shelf/{stock}/look"), &[("verdict", "cloudy")], 400, "verdict_unreadable"),
        ("/shelf/99999/look".into(), &[("verdict", "clear")], 404, "item_unknown"),
        ("/undo".into(), &[("act", "1")], 409, "act_in_the_way"),
        ("/undo".into(), &[("act", "999")], 404, "act_unknown"),
        ("/undo".into(), &[("act", "x")], 400, "count_unreadable"),
        ("/settings".into(), &[("balance", "heavy")], 400, "number_missing"),
    ] {
        let before = house.written();
        let refused = house.post(&path, answers);
        assert_eq!(refused.status, status, "{path}: {}", refused.text);
        assert!(refused.text.contains(code), "{path} expected {code}: {}", refused.text);
        looks_sound(&path, &refused);
        assert!(house.written() == before, "{path} wrote something");
    }
}

#[test]
fn the_script_is_given_the_same_page_without_its_frame() {
    let house = House::filled("web-pages-part");
    for path in ["/stock/plan?salt=PdCl2&make=60mL&balance=0.01g", "/stock/plan?salt=PdXl2&make=60mL"] {
        let whole = house.get(path);
        let request = axum::http::Request::get(path).header("host", crate::web::OURS).header("x-handcoat-part", "live");
        let part = house.ask(crate::web::LOCAL, request.body(axum::body::Body::empty()).expect("a request"));
        assert_eq!(part.status, whole.status, "{path}");
        assert!(!part.text.contains("class=\"rivers\"") && !part.text.contains("name=\"token\""), "{path}");
        let live = |answer: &Answered| -> Vec<String> {
            let all = tags(&answer.text);
            let places = all.iter().filter(|tag| tag.get("data-live").is_some()).filter_map(|tag| tag.get("id"));
            places
                .map(|id| {
                    answer
                        .text
                        .split(&format!("id=\"{id}\""))
                        .nth(1)
                        .expect("a place")
                        .split("</div>")
                        .next()
                        .unwrap_or_default()
                        .into()
                })
                .collect()
        };
        assert!(live(&whole).len() > 20 && live(&whole) == live(&part), "{path}");
    }
}

#[test]
fn a_theme_is_kept_and_the_way_back_stays_at_home() {
    let house = House::new("web-pages-theme");
    for (back, to) in [
        ("/shelf", "/shelf"),
        ("/stock/plan?salt=PdCl2&purity=99%25", "/stock/plan?salt=PdCl2&purity=99%25"),
        ("/\\evil.example", "/"),
        ("//evil.example", "/"),
        ("https://evil.example", "/"),
        ("/shelf\r\nX: y", "/"),
        ("", "/"),
    ] {
        let kept = house.post("/theme", &[("theme", "amber"), ("back", back)]);
        assert_eq!((kept.status.as_u16(), kept.header("location")), (303, to), "{back:?}");
        let cookie = kept.header("set-cookie");
        assert!(
            cookie.starts_with("theme=amber; ") && cookie.contains("HttpOnly") && cookie.contains("SameSite=Strict"),
            "{cookie}"
        );
    }
    let request = |path: &str| {
        let request =
            axum::http::Request::get(path).header("host", crate::web::OURS).header("cookie", "a=b; theme=red");
        house.ask(crate::web::LOCAL, request.body(axum::body::Body::empty()).expect("a request"))
    };
    let page = house.get("/stock/plan?salt=PdCl2&make=60mL&act=3");
    assert_eq!(page.hidden("back"), "/stock/plan?salt=PdCl2&amp;make=60mL", "the plan is still there in another light");
    let refused = house.post("/shelf/99999/look", &[]);
    assert_eq!(refused.hidden("back"), "/");
    // No white page in the darkroom, whatever was asked for.
    for path in ["/", "/nowhere", "/shelf/99999", "/undo"] {
        assert!(request(path).text.contains("data-theme=\"red\""), "{path}");
    }
}

#[test]
fn the_files_of_the_house_are_kept_for_good_and_hold_no_foreign_address() {
    let house = House::new("web-pages-assets");
    let page = house.get("/stock/plan").text;
    let all = tags(&page);
    let linked = all
        .iter()
        .filter_map(|tag| tag.get("href").or_else(|| tag.get("src")))
        .filter(|own| own.starts_with("/assets/"));
    let mut files: Vec<String> = linked.map(String::from).collect();
    assert_eq!(files.len(), 2, "{files:?}");
    let style = house.get(&files[0]).text;
    files.extend(style.split("url(").skip(1).map(|own| format!("/assets/{}", own.split(')').next().expect("an end"))));
    assert_eq!(files.len(), 6, "four faces: {files:?}");
    for file in &files {
        let first = house.get(file);
        assert_eq!(first.status, 200, "{file}");
        assert!(first.header("cache-control").contains("immutable"), "{file}");
        let request = axum::http::Request::get(file)
            .header("host", crate::web::OURS)
            .header("if-none-match", first.header("etag"));
        let again = house.ask(crate::web::LOCAL, request.body(axum::body::Body::empty()).expect("a request"));
        assert_eq!((again.status.as_u16(), again.bytes.len()), (304, 0), "{file}");
        assert!(!first.text.contains("http:") && !first.text.contains("https:"), "{file}");
    }
}

#[test]
fn a_way_on_is_taken_and_its_own_sheet_stands_there() {
    let house = House::filled("web-pages-ways");
    let plan = "/stock/plan?salt=PdCl2&hydrate=none&purity=99%25&salt_mass=4g&make=44mL&chloride_mass=3g&balance=0.1g&bottle=60mL";
    let over = house.get(&format!("{plan}&weighed=4.4g")).text;
    assert!(over.contains("As planned: Palladium stock, 44 mL"), "{over}");
    let ways: Vec<String> = tags(&over)
        .iter()
        .filter(|own| own.get("aria-label").is_some_and(|it| it.starts_with("Take this way")))
        .filter_map(|own| own.get("href"))
        .map(|own| own.replace("&amp;", "&").replace("#sheet", ""))
        .collect();
    assert_eq!(ways.len(), 3, "{ways:?}");
    // Put some back: the plan as it was. Make more: 4.4 g in 48.4 mL. Keep it: 4.4 g in the 44 mL.
    for (way, title, mass) in [(0, "44 mL", ">4.0<"), (1, "48.4 mL", ">4.4<"), (2, "44 mL", ">4.4<")] {
        let page = house.get(&ways[way]).text;
        assert!(page.contains(&format!("<h3>Palladium stock, {title}</h3>")), "{way}: {page}");
        assert!(page.contains(mass) && !page.contains("As weighed."), "{way}: {page}");
    }
    // Of what is mixed already no plan is begun anew.
    assert!(!house.get(&format!("{plan}&weighed=4.4g&mixed=yes")).text.contains("Take this way"));
}
