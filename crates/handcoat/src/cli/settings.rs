//! `handcoat settings`: the studio's name, its scale and the number to call; said without flags it shows them.

use clap::Args;
use handcoat_work::{Refusal, Settings};
use serde_json::json;

use super::book::BookArgs;
use crate::json;

#[derive(Debug, Args)]
#[command(after_help = "Examples:
  handcoat settings --studio 'Weir Yard' --balance 0.01g
  handcoat settings

What is left out stays as it is; '' takes it back. The studio's name stands on sheets, and in the code of a chart.")]
pub(super) struct SettingsArgs {
    /// What the studio is called
    #[arg(long, value_name = "NAME")]
    studio: Option<String>,
    /// Smallest step of the scale that is used when nothing else is said
    #[arg(long, value_name = "MASS")]
    balance: Option<String>,
    /// The number that is called in an emergency
    #[arg(long, value_name = "NUMBER")]
    emergency_number: Option<String>,
    #[command(flatten)]
    whose: BookArgs,
}

pub(super) fn run_settings(args: &SettingsArgs) -> Result<String, Refusal> {
    let mut studio = args.whose.open()?;
    let said = Settings {
        studio: args.studio.clone(),
        emergency_number: args.emergency_number.clone(),
        balance: args.balance.clone(),
    };
    if said != Settings::default() {
        studio.keep_settings(&said)?;
    }
    let own = studio.settings()?;
    if args.whose.json {
        return Ok(json::lines(&json!({
            "studio": own.studio,
            "balance": own.balance,
            "emergency_number": own.emergency_number,
        })));
    }
    let line = |label: &str, value: &Option<String>| format!("{label}: {}\n", value.as_deref().unwrap_or("not said"));
    let (studio, scale) = (line("Studio", &own.studio), line("Scale reads", &own.balance));
    Ok(format!("{studio}{scale}{}", line("Emergency number", &own.emergency_number)))
}
