//! Flags made from a table of fields, so that what is asked is said in one place.

use std::collections::BTreeMap;
use std::marker::PhantomData;

use clap::{Arg, ArgMatches, Command};
use handcoat_craft::measure::capitalised;
use handcoat_work::Field;

/// A table that flags are made from.
pub(super) trait Table {
    /// Its fields.
    fn fields() -> &'static [Field];
}

/// Answers to the fields of a table.
#[derive(Debug)]
pub(super) struct FieldArgs<T> {
    answers: BTreeMap<&'static str, String>,
    table: PhantomData<T>,
}

impl<T: Table> FieldArgs<T> {
    /// Answers by the key of their field.
    pub(super) fn answers(&self) -> BTreeMap<&'static str, String> {
        self.answers.clone()
    }
}

impl<T: Table> clap::FromArgMatches for FieldArgs<T> {
    fn from_arg_matches(matches: &ArgMatches) -> Result<Self, clap::Error> {
        let answer = |field: &'static Field| Some((field.key, matches.get_one::<String>(field.flag)?.clone()));
        Ok(Self { answers: T::fields().iter().filter_map(answer).collect(), table: PhantomData })
    }

    fn update_from_arg_matches(&mut self, matches: &ArgMatches) -> Result<(), clap::Error> {
        *self = Self::from_arg_matches(matches)?;
        Ok(())
    }
}

impl<T: Table> clap::Args for FieldArgs<T> {
    fn augment_args(command: Command) -> Command {
        T::fields().iter().fold(command, |command, field| {
            let label = capitalised(field.label);
            let heading = (!field.group.is_empty()).then_some(field.group);
            let arg = Arg::new(field.flag)
                .long(field.flag.trim_start_matches('-'))
                .value_name("ANSWER")
                .help(format!("{label}: {}", field.example))
                .help_heading(heading);
            command.arg(arg)
        })
    }

    fn augment_args_for_update(command: Command) -> Command {
        Self::augment_args(command)
    }
}
