//! 16 bits become 8: the mean stays, and the mask is what its method makes.

use std::path::PathBuf;

use handcoat_pixels::{Dither, Format, Job, Lut, Output, Packing, Picture, Ppi, Run, make};

use crate::made::{read_raw, write_tiff};

const SIDE: usize = 64;

fn dithered(code: u16, dither: Dither) -> Vec<u8> {
    let folder = tempfile::tempdir().expect("a folder");
    let (from, to) = (folder.path().join("in.tif"), folder.path().join("out.tif"));
    write_tiff(&from, 256, 256, 1, &vec![code; 65536], None);
    let picture = Picture::open(&from, &handcoat_pixels::Budget::default()).expect("a picture");
    let mut job = Job::plain(picture.into(), (256, 256), Ppi::new(360.0).expect("ppi"));
    job.pictures[0].table = Lut::straight();
    job.output = Output::Eight(dither);
    job.format = Format::Tiff(Packing::Deflate);
    make(&job, &to, &Run::default()).expect("made");
    read_raw(&to)
}

#[test]
fn the_mean_of_8_bits_is_the_code_of_16() {
    for dither in [Dither::BlueNoise, Dither::Diffusion] {
        for level in 0..64_u32 {
            // Sixty-four levels over the whole scale, the ends and odd rests among them.
            let code = (level * 65535 / 63) as u16;
            let out = dithered(code, dither);
            let mean = out.iter().map(|&own| f64::from(own)).sum::<f64>() / out.len() as f64;
            let wanted = f64::from(code) / 257.0;
            assert!((mean - wanted).abs() <= 0.02, "{dither:?}: {code} gave {mean}, wanted {wanted}");
            // And no pixel is further away than the two codes around it, three where errors meet.
            let most = if dither == Dither::BlueNoise { 1.0 } else { 2.0 };
            assert!(out.iter().all(|&own| (f64::from(own) - wanted).abs() < most), "{dither:?} {code}");
        }
    }
}

/// Void and cluster (Ulichney 1993) on a torus, Gaussian of 1.5 pixels, ties by the first place.
fn mask() -> Vec<u16> {
    const COUNT: usize = SIDE * SIDE;
    let near: Vec<f64> = (0..COUNT)
        .map(|place| {
            let across = |at: usize| at.min(SIDE - at) as f64;
            let (x, y) = (across(place % SIDE), across(place / SIDE));
            libm::exp(-(x * x + y * y) / (2.0 * 1.5 * 1.5))
        })
        .collect();
    let change = |energy: &mut [f64], at: usize, by: f64| {
        let (ax, ay) = (at % SIDE, at / SIDE);
        for (place, own) in energy.iter_mut().enumerate() {
            let (dx, dy) = ((place % SIDE + SIDE - ax) % SIDE, (place / SIDE + SIDE - ay) % SIDE);
            *own += by * near[dy * SIDE + dx];
        }
    };
    // The tightest of the set, or the emptiest of the others.
    let extreme = |energy: &[f64], set: &[bool], of: bool| {
        let sign = if of { 1.0 } else { -1.0 };
        let mut best = (f64::MIN, 0);
        for place in (0..COUNT).filter(|&place| set[place] == of) {
            if sign * energy[place] > best.0 {
                best = (sign * energy[place], place);
            }
        }
        best.1
    };
    let mut set = vec![false; COUNT];
    let mut energy = vec![0.0; COUNT];
    let mut dice = crate::made::Dice(20_260_314);
    let mut there = 0;
    while there < COUNT / 10 {
        let place = dice.below(COUNT as u64) as usize;
        if !set[place] {
            set[place] = true;
            change(&mut energy, place, 1.0);
            there += 1;
        }
    }
    for _ in 0..10_000 {
        let tight = extreme(&energy, &set, true);
        set[tight] = false;
        change(&mut energy, tight, -1.0);
        let empty = extreme(&energy, &set, false);
        set[empty] = true;
        change(&mut energy, empty, 1.0);
        if tight == empty {
            break;
        }
    }
    let mut ranks = vec![0_u16; COUNT];
    let (mut left, mut left_energy) = (set.clone(), energy.clone());
    for rank in (0..there).rev() {
        let tight = extreme(&left_energy, &left, true);
        left[tight] = false;
        change(&mut left_energy, tight, -1.0);
        ranks[tight] = rank as u16;
    }
    for rank in there..COUNT {
        let empty = extreme(&energy, &set, false);
        set[empty] = true;
        change(&mut energy, empty, 1.0);
        ranks[empty] = rank as u16;
    }
    ranks
}

#[test]
fn the_mask_is_made_again() {
    let made: Vec<u8> = mask().iter().flat_map(|rank| rank.to_le_bytes()).collect();
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("src/blue_noise_64.bin");
    if std::env::var_os("HANDCOAT_WRITE_MASK").is_some() {
        std::fs::write(&path, &made).expect("the mask");
    }
    assert_eq!(std::fs::read(path).expect("the mask"), made);
    let mut ranks: Vec<u16> = made.chunks_exact(2).map(|own| u16::from_le_bytes([own[0], own[1]])).collect();
    ranks.sort_unstable();
    assert!(ranks.into_iter().eq(0..4096), "each rank once");
}
