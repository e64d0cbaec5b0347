//! The nine pictograms of hazard: a black symbol on white in a red diamond.
//!
//! Drawn for this project after the short descriptions in the UN GHS (annex 3, from memory). In one colour the red
//! prints as a dark grey: the frame is never lost.

use handcoat_craft::source::Pictogram;

use crate::svg::Theme;

/// Inside the diamond's frame: |x - 50| + |y - 50| under 42.
const FRAME: &str = "M50 3.5 L96.5 50 L50 96.5 L3.5 50 Z";

/// Draws one, a hundred units wide from corner to corner. The side of the diamond is that by √2.
///
/// On a page it keeps the page's ink and paper, so that no white lights up under a safelight.
#[must_use]
pub fn pictogram(sign: Pictogram, theme: Theme) -> String {
    let (ink, ground, frame) = match theme {
        Theme::Page => ("var(--ink)", "var(--sheet)", "var(--stop, #b3001b)"),
        Theme::Paper => ("#000000", "#ffffff", "#d2001f"),
    };
    let symbol = symbol(sign).replace("INK", ink).replace("GROUND", ground);
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 100 100\" width=\"100\" height=\"100\" role=\"img\">\
         <title>{} {}</title><desc>Pictogram of hazard: {}.</desc>\
         <path d=\"{FRAME}\" fill=\"{ground}\" stroke=\"{frame}\" stroke-width=\"4.9\"/>{symbol}</svg>",
        sign.code(),
        sign.name(),
        sign.name()
    )
}

fn symbol(sign: Pictogram) -> &'static str {
    match sign {
        Pictogram::ExplodingBomb => EXPLODING_BOMB,
        Pictogram::Flame => FLAME,
        Pictogram::FlameOverCircle => FLAME_OVER_CIRCLE,
        Pictogram::GasCylinder => GAS_CYLINDER,
        Pictogram::Corrosion => CORROSION,
        Pictogram::Skull => SKULL,
        Pictogram::ExclamationMark => EXCLAMATION_MARK,
        Pictogram::HealthHazard => HEALTH_HAZARD,
        Pictogram::Environment => ENVIRONMENT,
    }
}

/// A ball that bursts, its pieces flying.
const EXPLODING_BOMB: &str = r#"
    <g transform="translate(50 50) scale(.93) translate(-51 -49)">
    <circle cx="45" cy="58" r="17" fill="INK"/>
    <path d="M33 37 L39 45.5 L41.5 41.5 L45.5 51 L50 45 L51.5 54.5 L58 51.5 L57 58.5 L66 59.5 L74 50 L60 28
    Z" fill="GROUND"/>
    <path d="M44.5 43.5 L43 36 L48.5 33.5 L50.5 40.5 Z M53.5 42.5 L55.5 34.5 L62 36.5 L58.5 44.5 Z M60.5
    49.5 L66 43.5 L71 48.5 L64 53.5 Z" fill="INK"/>
    <path d="M44 31 L42 20 L46.5 30 Z M53 31.5 L56.5 19 L57 31.5 Z M64 34.5 L72.5 28 L67 38 Z M73 45.5 L82
    44.5 L74.5 49 Z M68.5 56 L79 60 L68 60.5 Z M37 36.5 L30 29 L39.5 34 Z" fill="INK"/>
    </g>
"#;

/// A flame over a line.
const FLAME: &str = r#"
    <path d="M50 66 C38 66 32.5 59 33 51 C33.4 44.5 37.5 41 38.5 35 C41.5 37 42.7 39.5 42.9 43 C46 38 49.5
    30 46.5 19 C55 23.5 59 31 58.5 39.5 C60.5 38.5 61.7 36.5 61.8 34 C66 40 67.6 45.5 67 51 C66.2 59.5 60.5
    66 50 66 Z" fill="INK"/>
    <path d="M50.2 62.5 C45.5 62.5 42.3 59.5 42.6 55 C42.9 51.5 45.6 50 46.3 46.5 C48 47.8 48.6 49 48.8
    50.8 C50.6 48.5 51.6 45.5 51 42 C55.5 45.5 58 50 57.6 55 C57.2 60 54.6 62.5 50.2 62.5 Z" fill="GROUND"/>
    <rect x="33" y="70" width="34" height="4.2" fill="INK"/>
"#;

/// A flame over a ring over a line.
const FLAME_OVER_CIRCLE: &str = r#"
    <g transform="translate(50 50) scale(.94) translate(-50 -52.5)">
    <g transform="translate(50 44) scale(.66 .56) translate(-50 -62)">
    <path d="M50 66 C38 66 32.5 59 33 51 C33.4 44.5 37.5 41 38.5 35 C41.5 37 42.7 39.5 42.9 43 C46 38 49.5
    30 46.5 19 C55 23.5 59 31 58.5 39.5 C60.5 38.5 61.7 36.5 61.8 34 C66 40 67.6 45.5 67 51 C66.2 59.5 60.5
    66 50 66 Z" fill="INK"/>
    <path d="M50.2 62.5 C45.5 62.5 42.3 59.5 42.6 55 C42.9 51.5 45.6 50 46.3 46.5 C48 47.8 48.6 49 48.8
    50.8 C50.6 48.5 51.6 45.5 51 42 C55.5 45.5 58 50 57.6 55 C57.2 60 54.6 62.5 50.2 62.5 Z" fill="GROUND"/>
    </g>
    <circle cx="50" cy="57" r="11.8" fill="GROUND" stroke="INK" stroke-width="4.6"/>
    <rect x="37" y="73" width="26" height="3.8" fill="INK"/>
    </g>
"#;

/// A lying gas cylinder.
const GAS_CYLINDER: &str = r#"
    <g transform="translate(50 50) scale(.9) translate(-51.5 -50)">
    <g transform="rotate(-32 50 50)">
    <path d="M25 41.5 H62 C67 41.5 69 44.5 71 46.5 H76 V53.5 H71 C69 55.5 67 58.5 62 58.5 H25 C22.5 58.5 21
    56.5 21 54.5 V45.5 C21 43.5 22.5 41.5 25 41.5 Z" fill="INK"/>
    <rect x="77.2" y="44.6" width="4" height="10.8" fill="INK"/>
    <path d="M26 45.6 H60" stroke="GROUND" stroke-width="2" stroke-linecap="round"/>
    </g>
    </g>
"#;

/// Two tubes drip; a bar of metal and a hand are eaten.
const CORROSION: &str = r#"
    <g transform="translate(44 37) rotate(48)">
    <path d="M0 -3.6 H-11.5 A3.6 3.6 0 0 0 -11.5 3.6 H0" fill="none" stroke="INK" stroke-width="1.9"/>
    <path d="M-.6 3.4 L-11.5 3.4 L-6.5 -.6 L0 .6 Z" fill="INK"/>
    <path d="M.2 -5 V5" stroke="INK" stroke-width="2"/>
    </g>
    <g transform="scale(-1 1) translate(-56 37) rotate(48)">
    <path d="M0 -3.6 H-11.5 A3.6 3.6 0 0 0 -11.5 3.6 H0" fill="none" stroke="INK" stroke-width="1.9"/>
    <path d="M-.6 3.4 L-11.5 3.4 L-6.5 -.6 L0 .6 Z" fill="INK"/>
    <path d="M.2 -5 V5" stroke="INK" stroke-width="2"/>
    </g>
    <path d="M42.2 42.6 c1.5 2.4 2.2 3.4 2.2 4.6 a2.2 2.2 0 0 1 -4.4 0 c0 -1.2 .7 -2.2 2.2 -4.6 Z"
    fill="INK"/>
    <path d="M42.2 50.2 c1.5 2.4 2.2 3.4 2.2 4.6 a2.2 2.2 0 0 1 -4.4 0 c0 -1.2 .7 -2.2 2.2 -4.6 Z"
    fill="INK"/>
    <path d="M57.8 42.6 c1.5 2.4 2.2 3.4 2.2 4.6 a2.2 2.2 0 0 1 -4.4 0 c0 -1.2 .7 -2.2 2.2 -4.6 Z"
    fill="INK"/>
    <path d="M57.8 50.2 c1.5 2.4 2.2 3.4 2.2 4.6 a2.2 2.2 0 0 1 -4.4 0 c0 -1.2 .7 -2.2 2.2 -4.6 Z"
    fill="INK"/>
    <g transform="translate(0 58) scale(1 1.35) translate(0 -58)">
    <path d="M22 59 H35.5 L37 62 L39.3 60.2 L41.3 63 L43.6 60.6 L45.2 59 H48.5 V64.6 H27.4 Z" fill="INK"/>
    <path d="M52.4 62.6 C54 59.6 55.6 58.2 57 58 L58 60.8 L60 59.4 L61.6 61.6 L63.2 58.2 C66.6 58.3 72 58.6
    77.4 58.8 L70.8 65.6 C68 66 65 66.6 62.6 67 L57.6 69 C55.2 69.8 53.6 68.2 55.6 66.8 L58 65.2 L53.2 66
    C50.8 66.2 50.8 64.2 52.4 62.6 Z" fill="INK"/>
    </g>
    <path d="M36.4 57.2 C34.8 55.4 37.4 54 35.8 52.2 M46 57.2 C44.4 55.4 47 54 45.4 52.2 M53.8 57.2 C52.2
    55.4 54.8 54 53.2 52.2 M64.4 56.6 C62.8 54.8 65.4 53.4 63.8 51.6" stroke="INK" stroke-width="1.4"
    fill="none"/>
"#;

/// A skull before two crossed bones.
const SKULL: &str = r#"
    <g transform="translate(50 50) scale(.82) translate(-50 -50)">
    <g transform="rotate(20 50 65)">
    <path d="M27 65 H73" stroke="INK" stroke-width="4.6"/>
    <circle cx="26.5" cy="62.4" r="3.4" fill="INK"/>
    <circle cx="26.5" cy="67.6" r="3.4" fill="INK"/>
    <circle cx="73.5" cy="62.4" r="3.4" fill="INK"/>
    <circle cx="73.5" cy="67.6" r="3.4" fill="INK"/>
    </g>
    <g transform="rotate(-20 50 65)">
    <path d="M27 65 H73" stroke="INK" stroke-width="4.6"/>
    <circle cx="26.5" cy="62.4" r="3.4" fill="INK"/>
    <circle cx="26.5" cy="67.6" r="3.4" fill="INK"/>
    <circle cx="73.5" cy="62.4" r="3.4" fill="INK"/>
    <circle cx="73.5" cy="67.6" r="3.4" fill="INK"/>
    </g>
    <path d="M50 20 C38.5 20 32.5 28 32.5 36.5 C32.5 41 34 44 36.5 46.5 C38.5 48.5 38.5 49.5 38.7 52 V58.5
    C38.7 60.5 40 61.5 42 61.5 H58 C60 61.5 61.3 60.5 61.3 58.5 V52 C61.5 49.5 61.5 48.5 63.5 46.5 C66 44
    67.5 41 67.5 36.5 C67.5 28 61.5 20 50 20 Z" fill="INK" stroke="GROUND" stroke-width="2.4"/>
    <ellipse cx="42.6" cy="39" rx="5" ry="5.6" fill="GROUND"/>
    <ellipse cx="57.4" cy="39" rx="5" ry="5.6" fill="GROUND"/>
    <path d="M50 44.5 L47.2 50 H52.8 Z" fill="GROUND"/>
    <path d="M44.3 54.5 V61.5 M48.1 54.5 V61.5 M51.9 54.5 V61.5 M55.7 54.5 V61.5" stroke="GROUND"
    stroke-width="1.4"/>
    </g>
"#;

/// An exclamation mark.
const EXCLAMATION_MARK: &str = r#"
    <path d="M43.2 24 C43.2 20.5 46 18.5 50 18.5 C54 18.5 56.8 20.5 56.8 24 C56.8 33 54.4 45 53 58.5 H47
    C45.6 45 43.2 33 43.2 24 Z" fill="INK"/>
    <circle cx="50" cy="70.5" r="6.6" fill="INK"/>
"#;

/// Head and shoulders with a star in the breast.
const HEALTH_HAZARD: &str = r#"
    <g transform="translate(50 50) scale(.94) translate(-50 -49.5)">
    <path d="M50 17 C56 17 59.8 21.2 59.6 27 C59.4 31.5 57.6 34.6 55.8 36.6 V40.5 C60 42 66 43.4 69.5 46.4
    C72.4 49 73.2 53 73.6 57 L59 75.5 L55 81 H45 L41 75.5 L26.4 57 C26.8 53 27.6 49 30.5 46.4 C34 43.4 40
    42 44.2 40.5 V36.6 C42.4 34.6 40.6 31.5 40.4 27 C40.2 21.2 44 17 50 17 Z" fill="INK"/>
    <polygon points="50.0,44.5 51.8,53.8 57.1,50.9 54.2,56.2 63.5,58.0 54.2,59.8 57.1,65.1 51.8,62.2
    50.0,71.5 48.2,62.2 42.9,65.1 45.8,59.8 36.5,58.0 45.8,56.2 42.9,50.9 48.2,53.8" fill="GROUND"/>
    </g>
"#;

/// A bare tree and a dead fish.
const ENVIRONMENT: &str = r#"
    <g transform="translate(50 50) scale(.92) translate(-51.5 -49)">
    <path d="M34.5 66 C35.2 58 35 54 33.5 49 L26.5 43.5 L28 42 L33 45 L31.8 35.5 L34 35 L36 42 L39 34 L36.6
    27.5 L38.8 26.6 L40.8 31.6 L43.6 25.5 L45.6 26.6 L41.6 36.5 L40 44 L46.5 37.5 L48.2 39 L41 48.6 C40.6
    55 41 60 42.6 66 Z" fill="INK"/>
    <path d="M29 64.8 H46 C52 64.8 53 70 60 70 L66 70.5 C60 73 50 72.2 44 74.5 L38 75 Z" fill="INK"/>
    <path d="M47 58.6 C52 51.6 63 51.4 69.4 57.2 L78.6 51.5 C77.6 55.5 77.6 60.5 79 64.6 L69.4 60.6 C62.6
    66.4 52 65.6 47 58.6 Z" fill="INK"/>
    <path d="M51.6 55.4 L54.4 58.2 M54.4 55.4 L51.6 58.2" stroke="GROUND" stroke-width="1.3"/>
    <path d="M57.6 54.2 C59.2 56.6 59.2 60.2 57.6 62.8" stroke="GROUND" stroke-width="1.3" fill="none"/>
    </g>
"#;
