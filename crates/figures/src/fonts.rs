//! The typefaces of pages and papers, embedded: Alegreya and Alegreya Sans, SIL Open Font License 1.1 (the
//! licence texts stand beside the files).

/// One face.
#[derive(Clone, Copy, Debug)]
pub struct Face {
    /// Family name as style sheets ask for it.
    pub family: &'static str,
    /// Weight.
    pub weight: u16,
    /// File name when it is written out.
    pub file: &'static str,
    /// The TrueType file.
    pub bytes: &'static [u8],
}

/// All faces: a serif for titles, a sans for the rest.
pub const FACES: &[Face] = &[
    Face {
        family: "Alegreya",
        weight: 500,
        file: "Alegreya_500Medium.ttf",
        bytes: include_bytes!("../fonts/Alegreya_500Medium.ttf"),
    },
    Face {
        family: "Alegreya Sans",
        weight: 400,
        file: "AlegreyaSans_400Regular.ttf",
        bytes: include_bytes!("../fonts/AlegreyaSans_400Regular.ttf"),
    },
    Face {
        family: "Alegreya Sans",
        weight: 500,
        file: "AlegreyaSans_500Medium.ttf",
        bytes: include_bytes!("../fonts/AlegreyaSans_500Medium.ttf"),
    },
    Face {
        family: "Alegreya Sans",
        weight: 700,
        file: "AlegreyaSans_700Bold.ttf",
        bytes: include_bytes!("../fonts/AlegreyaSans_700Bold.ttf"),
    },
];
