//! One thread's room, and what it does to a band.

use std::ops::Range;

use crate::dither::{Diffusion, Dither, blue_noise};
use crate::resample::Room;
use crate::samples::ToGrey;
use crate::sheet::{Drawn, Ink, Output};
use crate::write::{Packer, Packing, PngFile};

use super::Plan;
use super::feed::{Feeds, PictureRefused};

/// One thread.
pub(super) struct Worker<'a> {
    plan: &'a Plan<'a>,
    feeds: &'a Feeds<'a>,
    /// For each picture its grey rows of the band, and what makes them grey.
    greys: Vec<(Vec<u16>, ToGrey<'a>)>,
    raw: Vec<u8>,
    room: Room,
    made: Vec<u16>,
    drawn: Vec<u16>,
    /// The band as codes.
    codes: Vec<u16>,
    /// The band as bytes of the file, not packed.
    rows: Vec<u8>,
    /// Whether they are there already.
    laid_out: bool,
    packer: Packer,
    packed: Vec<u8>,
    spare: Vec<u8>,
}

impl<'a> Worker<'a> {
    pub(super) fn new(plan: &'a Plan<'a>, feeds: &'a Feeds<'a>) -> Self {
        let greys = feeds
            .lays()
            .iter()
            .map(|lay| {
                let picture = &lay.placed.picture;
                (Vec::new(), ToGrey::new(picture.header(), picture.tones()))
            })
            .collect();
        Self {
            plan,
            feeds,
            greys,
            raw: Vec::new(),
            room: Room::default(),
            made: Vec::new(),
            drawn: Vec::new(),
            codes: Vec::new(),
            rows: Vec::new(),
            laid_out: false,
            packer: Packer::new(),
            packed: Vec::new(),
            spare: Vec::new(),
        }
    }

    fn sheet_rows(&self, band: u32) -> Range<u32> {
        self.plan.rows_before(band)..self.plan.rows_before(band + 1)
    }

    /// What has to be read in turn.
    pub(super) fn read_in_turn(&mut self, band: u32) -> Result<(), PictureRefused> {
        let (rows, later) = (self.sheet_rows(band), self.sheet_rows(band + 1));
        for (index, (lay, (grey, _))) in self.feeds.lays().iter().zip(&mut self.greys).enumerate() {
            let Some(needed) = lay.needed(rows.clone()) else { continue };
            grey.resize(needed.source.len() * lay.area.width as usize, 0);
            let later = lay.needed(later.clone()).map_or(needed.source.end, |later| later.source.start);
            lay.read_in_turn(&needed.source, later, grey).map_err(|refused| (index, refused))?;
        }
        Ok(())
    }

    /// What can be read at any time.
    pub(super) fn read_anywhere(&mut self, band: u32) -> Result<(), PictureRefused> {
        let rows = self.sheet_rows(band);
        for (index, (lay, (grey, to_grey))) in self.feeds.lays().iter().zip(&mut self.greys).enumerate() {
            let Some(needed) = lay.needed(rows.clone()) else { continue };
            grey.resize(needed.source.len() * lay.area.width as usize, 0);
            lay.read_anywhere(&needed.source, to_grey, &mut self.raw, grey).map_err(|refused| (index, refused))?;
        }
        Ok(())
    }

    /// Pictures and drawings onto the band.
    pub(super) fn paint(&mut self, band: u32) {
        let rows = self.sheet_rows(band);
        let width = self.plan.shape.width;
        self.laid_out = self.paint_whole(&rows);
        if self.laid_out {
            return;
        }
        self.codes.clear();
        self.codes.resize(rows.len() * width, self.plan.job.ground);
        for (lay, (grey, _)) in self.feeds.lays().iter().zip(&mut self.greys) {
            let Some(needed) = lay.needed(rows.clone()) else { continue };
            let own = match &lay.resampler {
                None => &mut *grey,
                Some(resampler) => {
                    self.made.resize(needed.own.len() * lay.placed.size.0 as usize, 0);
                    resampler.rows(grey, needed.source.start, needed.own.start, &mut self.made, &mut self.room);
                    &mut self.made
                }
            };
            lay.placed.table.apply(own);
            let at = (lay.placed.at.0, lay.placed.at.1 + needed.own.start - rows.start);
            lay_over(&mut self.codes, width, own, lay.placed.size.0, at);
        }
        for drawn in &self.plan.job.drawn {
            draw(drawn, &rows, &mut self.drawn, &mut self.codes, width);
        }
        if self.plan.job.mirror {
            self.codes.chunks_exact_mut(width).for_each(<[u16]>::reverse);
        }
    }

    /// The same at one go for what negatives mostly are: one picture over the whole width, nothing drawn over it, grey of 16 bits.
    fn paint_whole(&mut self, rows: &Range<u32>) -> bool {
        let job = self.plan.job;
        let ([lay], [(grey, _)]) = (self.feeds.lays(), &mut *self.greys) else { return false };
        let width = self.plan.shape.width;
        let Some(needed) = lay.needed(rows.clone()) else { return false };
        let whole = lay.placed.size.0 as usize == width && needed.own.len() == rows.len();
        if !whole || !job.drawn.is_empty() || job.output != Output::Sixteen {
            return false;
        }
        let own = match &lay.resampler {
            None => &*grey,
            Some(resampler) => {
                self.made.resize(needed.own.len() * width, 0);
                resampler.rows(grey, needed.source.start, needed.own.start, &mut self.made, &mut self.room);
                &self.made
            }
        };
        self.rows.resize(own.len() * 2, 0);
        let (out, _) = self.rows.as_chunks_mut::<2>();
        let table = &lay.placed.table;
        for (row, out) in own.chunks_exact(width).zip(out.chunks_exact_mut(width)) {
            if job.mirror {
                row.iter().rev().zip(out).for_each(|(code, out)| *out = table.at(*code).to_le_bytes());
            } else {
                row.iter().zip(out).for_each(|(code, out)| *out = table.at(*code).to_le_bytes());
            }
        }
        true
    }

    /// Codes as bytes of the file, but for what is diffused.
    pub(super) fn lay_out(&mut self, band: u32) {
        if self.laid_out {
            return;
        }
        let width = self.plan.shape.width;
        let (samples, bytes) = (self.plan.shape.samples, self.plan.shape.bytes);
        self.rows.resize(self.codes.len() * samples * bytes, 0);
        match &self.plan.job.output {
            Output::Sixteen => {
                let (out, _) = self.rows.as_chunks_mut::<2>();
                out.iter_mut().zip(&self.codes).for_each(|(out, code)| *out = code.to_le_bytes());
            }
            Output::Eight(Dither::BlueNoise) => {
                let rows = self.codes.chunks_exact(width).zip(self.rows.chunks_exact_mut(width));
                (self.plan.rows_before(band)..).zip(rows).for_each(|(y, (row, out))| blue_noise(y, row, out));
            }
            Output::Eight(Dither::Diffusion) => {}
            Output::Ink(ink) => {
                let (out, _) = self.rows.as_chunks_mut::<6>();
                out.iter_mut().zip(&self.codes).for_each(|(out, code)| *out = inked(*ink, *code));
            }
            Output::Colours(colours) => {
                let (out, _) = self.rows.as_chunks_mut::<3>();
                out.iter_mut().zip(&self.codes).for_each(|(out, code)| *out = colours.at(*code));
            }
            Output::Strips(inks) => {
                let (out, _) = self.rows.as_chunks_mut::<6>();
                let rows = self.codes.chunks_exact(width).zip(out.chunks_exact_mut(width));
                for (y, (row, out)) in (self.plan.rows_before(band)..).zip(rows) {
                    let ink = inks.at(y);
                    out.iter_mut().zip(row).for_each(|(out, code)| *out = inked(ink, *code));
                }
            }
        }
    }

    /// The same for what is diffused, in turn.
    pub(super) fn diffuse(&mut self, band: u32, diffusion: &mut Diffusion) {
        let width = self.plan.shape.width;
        self.rows.resize(self.codes.len(), 0);
        let rows = self.codes.chunks_exact(width).zip(self.rows.chunks_exact_mut(width));
        (self.plan.rows_before(band)..).zip(rows).for_each(|(y, (row, out))| diffusion.row(y, row, out));
    }

    /// The band's bytes, not packed.
    pub(super) fn rows(&self) -> &[u8] {
        &self.rows
    }

    /// The same, to be kept, for a buffer to go on with.
    pub(super) fn take_rows(&mut self, spare: Vec<u8>) -> Vec<u8> {
        std::mem::replace(&mut self.rows, spare)
    }

    /// The band's bytes, packed, for a buffer to go on with.
    pub(super) fn take_packed(&mut self, spare: Vec<u8>) -> Vec<u8> {
        std::mem::replace(&mut self.packed, spare)
    }

    /// Packs the band.
    pub(super) fn pack(&mut self, packing: Packing) {
        self.packer.pack(packing, self.plan.shape, &self.rows, &mut self.packed);
    }

    /// Packs the band as a chunk of PNG; gives the checksum and the length of what was packed.
    pub(super) fn pack_png(&mut self, file: &PngFile) -> (u32, u64) {
        file.band(&self.rows, &mut self.spare, &mut self.packed)
    }
}

/// Rows onto the band from a place on.
fn lay_over(codes: &mut [u16], width: usize, own: &[u16], own_width: u32, at: (u32, u32)) {
    let rows = codes.chunks_exact_mut(width).skip(at.1 as usize);
    for (to, from) in rows.zip(own.chunks_exact(own_width as usize)) {
        to.iter_mut().skip(at.0 as usize).zip(from).for_each(|(to, from)| *to = *from);
    }
}

fn draw(drawn: &Drawn, rows: &Range<u32>, room: &mut Vec<u16>, codes: &mut [u16], width: usize) {
    let begin = rows.start.max(drawn.at.1);
    let end = rows.end.min(drawn.at.1 + drawn.size.1);
    if begin >= end {
        return;
    }
    room.resize((end - begin) as usize * drawn.size.0 as usize, 0);
    drawn.strips.rows(begin - drawn.at.1, room);
    lay_over(codes, width, room, drawn.size.0, (drawn.at.0, begin - rows.start));
}

/// A code in one ink: none of it at 65,535, all of it at 0.
fn inked(ink: Ink, code: u16) -> [u8; 6] {
    let part = |full: u16| {
        let less = u32::from(u16::MAX - full) * u32::from(u16::MAX - code);
        (65535 - (less + 32767) / 65535) as u16
    };
    let [r, g, b] = [ink.red, ink.green, ink.blue].map(|full| part(full).to_le_bytes());
    [r[0], r[1], g[0], g[1], b[0], b[1]]
}
