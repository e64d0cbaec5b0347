//! Makes negatives and reads pictures outside the house, for measurements: `strips make PICTURE OUT [KEY=VALUE …]`, `strips read PICTURE`.

use std::io::Write as _;
use std::path::Path;
use std::process::ExitCode;
use std::sync::Arc;

use handcoat_pixels::{
    Budget, Checkpoint, Checkpoints, Dither, Filter, Format, Ink, Job, Lut, NotMade, Orientation, Output, Packing,
    Picture, Ppi, Run, make,
};

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    let said = match words.as_slice() {
        ["make", picture, out, settings @ ..] => made(picture, out, settings),
        ["read", picture] => read(picture),
        _ => Err("expected: strips make PICTURE OUT [KEY=VALUE …], or strips read PICTURE".to_owned()),
    };
    match said {
        Ok(said) => {
            let _ = writeln!(std::io::stdout(), "{said}");
            ExitCode::SUCCESS
        }
        Err(what) => {
            let _ = writeln!(std::io::stderr(), "{what}");
            ExitCode::from(4)
        }
    }
}

/// The curve of the measurements: darker in the middle, computed in whole numbers so that other programs have the same.
fn curve(code: u16) -> u16 {
    let code = u64::from(code);
    (code * code / 65535 / 2 + code / 2) as u16
}

fn made(picture: &str, out: &str, settings: &[&str]) -> Result<String, String> {
    let began = std::time::Instant::now();
    let opened = Picture::open(Path::new(picture), &Budget::default());
    let picture = Arc::new(opened.map_err(|refused| format!("{} {refused}", refused.code()))?);
    let (width, height) = picture.header().upright();
    let ppi = Ppi::new(720.0).ok_or("no such ppi")?;
    let mut job = Job::plain(picture, (width, height), ppi);
    let mut run = Run::default();
    let mut table = Lut::of(curve);
    let mut invert = true;
    let (mut every, mut keep) = (0, None);
    for setting in settings {
        let (key, value) = setting.split_once('=').unwrap_or((setting, ""));
        let number = || value.parse::<f64>().map_err(|_| format!("`{setting}` has no number"));
        let pictures = job.pictures.first_mut();
        match (key, value) {
            ("scale", _) => {
                let scaled = |side: u32| (f64::from(side) * number().unwrap_or(1.0)).round() as u32;
                let size = (scaled(width), scaled(height));
                job.sheet.width = size.0;
                job.sheet.height = size.1;
                pictures.into_iter().for_each(|own| own.size = size);
            }
            ("turn", _) => {
                let turn = Orientation::quarter_turns(number()? as u8);
                if turn.swaps() {
                    std::mem::swap(&mut job.sheet.width, &mut job.sheet.height);
                }
                let size = (job.sheet.width, job.sheet.height);
                pictures.into_iter().for_each(|own| (own.turn, own.size) = (turn, size));
            }
            ("filter", "cubic") => pictures.into_iter().for_each(|own| own.filter = Filter::Cubic),
            ("filter", "linear") => pictures.into_iter().for_each(|own| own.filter = Filter::Linear),
            ("filter", "area") => pictures.into_iter().for_each(|own| own.filter = Filter::Area),
            ("filter", "lanczos3") => {}
            ("packing", "none") => {}
            ("packing", "deflate") => job.format = Format::Tiff(Packing::Deflate),
            ("packing", "lzw") => job.format = Format::Tiff(Packing::Lzw),
            ("packing", "png") => job.format = Format::Png,
            ("threads", _) => run.threads = std::num::NonZeroUsize::new(number()? as usize),
            ("output", "blue-noise") => job.output = Output::Eight(Dither::BlueNoise),
            ("output", "diffusion") => job.output = Output::Eight(Dither::Diffusion),
            ("output", "ink") => job.output = Output::Ink(Ink { red: 60000, green: 20000, blue: 5000 }),
            ("curve", "none") => table = Lut::straight(),
            ("invert", "no") => invert = false,
            ("mirror", "no") => job.mirror = false,
            ("every", _) => every = number()? as u32,
            ("keep", _) => keep = Some(value.to_owned()),
            _ => return Err(format!("`{setting}` is not known")),
        }
    }
    if invert {
        table = table.then(&Lut::inverting());
    }
    job.pictures.iter_mut().for_each(|own| own.table = table.clone());
    let keeping = |checkpoint: &Checkpoint| {
        if let Some(name) = &keep {
            let part = format!("{name}.new");
            let _ = std::fs::write(&part, checkpoint.to_bytes());
            let _ = std::fs::rename(&part, name);
        }
    };
    if every > 0 {
        run.checkpoint = Some(Checkpoints { every, keep: &keeping });
        run.resume =
            keep.as_ref().and_then(|name| std::fs::read(name).ok()).and_then(|own| Checkpoint::from_bytes(&own));
    }
    let made = make(&job, Path::new(out), &run).map_err(|error| match &error {
        NotMade::Picture { refused, .. } => format!("{} {error}", refused.code()),
        _ => error.to_string(),
    })?;
    Ok(format!(
        "{} {} {} {} resumed {} seconds {:.3}",
        made.width_px,
        made.height_px,
        made.sha256,
        made.bytes,
        made.resumed_rows,
        began.elapsed().as_secs_f64()
    ))
}

fn read(picture: &str) -> Result<String, String> {
    let refused = |refused: handcoat_pixels::Refused| format!("{} {refused}", refused.code());
    let picture = Picture::open(Path::new(picture), &Budget::default()).map_err(refused)?;
    let header = picture.header().clone();
    let mut sum = 0_u64;
    picture.each_grey_row(|_, row| sum += row.iter().map(|&code| u64::from(code)).sum::<u64>()).map_err(refused)?;
    let pixels = f64::from(header.width) * f64::from(header.height);
    Ok(format!(
        "{:?} {} × {} {:?} {:?} mean {:.3}",
        header.kind,
        header.width,
        header.height,
        header.channels,
        header.depth,
        sum as f64 / pixels
    ))
}
