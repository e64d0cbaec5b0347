//! The fields of a print: the notebook of the trade, in the order of the work. Any of them may be unknown.

use handcoat_book::RecordKind;

use crate::field::{Field, Form};

macro_rules! fields {
    ($($group:literal: { $($key:literal $flag:literal $label:literal $form:expr, $example:literal;)+ })+) => {
        /// Every field, in the order of the work.
        pub static FIELDS: &[Field] = &[$($(
            Field { key: $key, flag: $flag, label: $label, form: $form, example: $example, group: $group },
        )+)+];

        /// The parts of the work, in its order.
        #[must_use]
        pub fn groups() -> &'static [&'static str] {
            &[$($group),+]
        }
    };
}

fields! {
    "The picture": {
        "image" "--image" "the size of the image" Form::Size, "8x10in";
        "margin" "--margin" "how far the coat goes past it on each side" Form::Length, "1cm";
        "negative" "--negative" "the negative" Form::Record(RecordKind::Negative), "heron";
        "negative_range" "--negative-range" "the density range of the negative" Form::Density, "1.8";
        "edition" "--edition" "its number in the edition" Form::Words, "3/12";
    }
    "Paper and room": {
        "paper" "--paper" "the paper" Form::Record(RecordKind::Paper), "cotton rag 300";
        "side" "--side" "which side was coated" Form::Words, "felt";
        "pretreatment" "--pretreatment" "what was done to the paper before" Form::Words, "1% citric acid";
        "room_temperature" "--room-temperature" "the temperature of the room" Form::Temperature, "20C";
        "room_humidity" "--room-humidity" "the humidity of the room" Form::Humidity, "55%";
        "sheet_humidity" "--sheet-humidity" "the humidity the sheet rested at" Form::Humidity, "55%";
        "humidified" "--humidified" "how the sheet was humidified" Form::Words, "salt box, 1 h";
    }
    "Coat": {
        "tool" "--tool" "brush or rod" Form::Record(RecordKind::Tool), "wide brush";
        "coats" "--coats" "how many coats" Form::Whole, "1";
        "rest" "--rest" "how long it rested before drying" Form::Time, "4:00";
        "drying" "--drying" "how it was dried" Form::Words, "fan, cool";
        "drying_time" "--drying-time" "how long it dried" Form::Time, "10:00";
        "drying_temperature" "--drying-temperature" "how warm it was dried" Form::Temperature, "30C";
    }
    "Light": {
        "setup" "--setup" "the set-up it was exposed as" Form::Record(RecordKind::Setup), "cotton, palladium, tubes";
        "lamp" "--lamp" "the lamp" Form::Record(RecordKind::Lamp), "tube bank";
        "distance" "--distance" "how far the lamp was" Form::Length, "12cm";
        "time" "--time" "how long it was exposed" Form::Time, "6:00";
        "units" "--units" "integrator units, where they were counted" Form::Number, "400";
        "frame" "--frame" "the frame" Form::Words, "spring frame";
    }
    "Developer": {
        "developer" "--developer" "the developer" Form::Record(RecordKind::Bath), "oxalate developer";
        "developer_temperature" "--developer-temperature" "how warm the developer was" Form::Temperature, "20C";
        "developer_agent" "--developer-agent" "contrast agent in the developer, in g per litre" Form::Number, "0.2";
        "developing_time" "--developing-time" "how long it was developed" Form::Time, "2:00";
    }
    "Clearing and washing": {
        "bath_1" "--bath-1" "the first clearing bath" Form::Record(RecordKind::Bath), "citric 1";
        "bath_2" "--bath-2" "the second clearing bath" Form::Record(RecordKind::Bath), "EDTA 1";
        "bath_3" "--bath-3" "the third clearing bath" Form::Record(RecordKind::Bath), "EDTA 2";
        "clearing_time" "--clearing-time" "how long it was cleared in all" Form::Time, "20:00";
        "washing" "--washing" "how long it was washed" Form::Time, "30:00";
    }
    "Verdict": {
        "wet" "--wet" "how it looked wet" Form::Words, "a little thin";
        "dry" "--dry" "how it looks dry" Form::Words, "good, shadows open";
        "density_paper" "--density-paper" "density of the paper" Form::Density, "0.07";
        "density_black" "--density-black" "density of the deepest black" Form::Density, "1.45";
        "density_shadow" "--density-shadow" "density of a shadow" Form::Density, "1.10";
        "density_middle" "--density-middle" "density of a middle tone" Form::Density, "0.60";
        "density_highlight" "--density-highlight" "density of a highlight" Form::Density, "0.18";
        "faults" "--faults" "what is wrong with it" Form::Signs, "black-specks";
        "where" "--where" "where it is now" Form::Words, "box 3";
        "note" "--note" "a note" Form::Note, "brush a little dry at the left edge";
    }
}
