//! What comes in a sealed vial: no way out, whatever was weighed, moves it dry and in the open.

use handcoat_craft::measure::{Mass, Volume};
use handcoat_craft::stock::{
    AlkaliChloride, AsWeighed, Balance, ChlorideChoice, Goal, Off, Plan, Request, WaterIs, Way, Weighed,
};
use proptest::{prop_assert, prop_assume, proptest};

use crate::bench::{powder, request};

const VIALS: [&str; 7] = ["K2PtCl4", "(NH4)2PtCl4", "Na2PtCl4", "Na2PtCl6·6H2O", "Na2PtCl6", "Na2[PtCl6]", "Li2PtCl6"];
const JARS: [&str; 4] = ["PdCl2", "PdCl2·2H2O", "Na2PdCl4", "K2PdCl4"];

/// Whether a way takes this salt out of its jar or puts it back: typed again, apart from the rule itself.
fn in_the_open(way: &Way) -> bool {
    matches!(way, Way::PutBack(_) | Way::WeighMore(_) | Way::FollowChloride { .. })
}

struct Bench {
    salt: &'static str,
    step_ug: i64,
    planned_ug: i64,
    chloride_ug: i64,
    added: bool,
}

fn plan(bench: &Bench) -> Option<Plan> {
    let mass = |count| Mass::micrograms(count).expect("a mass");
    let goal = Goal::Into(Volume::millilitres(40.0).expect("a volume"), mass(bench.planned_ug));
    let answers = Request {
        chloride: AlkaliChloride::plain_salt(),
        chloride_choice: ChlorideChoice::Mass(mass(bench.chloride_ug)),
        balance: Balance::with_step(mass(bench.step_ug)),
        water_is: if bench.added { WaterIs::Added } else { WaterIs::MadeUp },
        ..request(powder(bench.salt), goal)
    };
    Plan::make(answers).ok()
}

proptest! {
    #[test]
    fn no_way_opens_a_vial(
        which in 0..VIALS.len() + JARS.len(), step in 0..4_u32, planned in 200_000_i64..6_000_000,
        chloride in 0_i64..4_000_000, content in proptest::option::of(100_000_i64..8_000_000),
        in_beaker in proptest::option::of(0_i64..6_000_000), mixed: bool, added: bool,
    ) {
        let salt = VIALS.iter().chain(&JARS).nth(which).expect("a salt");
        let bench = Bench { salt, step_ug: 10_i64.pow(step + 2), planned_ug: planned, chloride_ug: chloride, added };
        let Some(plan) = plan(&bench) else { return Ok(()) };
        let mass = |count| Mass::micrograms(count).expect("a mass");
        let weighed = Weighed { salt: content.map(mass), chloride: in_beaker.map(mass), mixed };
        let Ok(now) = AsWeighed::after(&plan, weighed) else { return Ok(()) };
        let ways: Vec<&Way> = now.ways.iter().chain(&now.chloride_ways).map(|out| &out.way).collect();
        let over = matches!(now.salt, Off::Over(_));
        if plan.request.powder.salt().is_chloroplatinate() {
            prop_assert!(!ways.iter().any(|way| in_the_open(way)), "{salt}: {ways:?}");
            prop_assert!(now.put_back(&plan).is_none() == over);
            // Something is still offered for a vial that held more or less.
            prop_assert!(now.salt == Off::AsPlanned || !now.ways.is_empty());
        } else {
            // The rule is about vials alone: from a jar, before the water, the plan can always be reached.
            let reached = ways.iter().any(|way| matches!(way, Way::PutBack(_) | Way::WeighMore(_)));
            prop_assert!(reached == (now.salt != Off::AsPlanned && !mixed), "{salt}: {ways:?}");
            prop_assert!(now.put_back(&plan).is_some());
        }
    }

    #[test]
    fn a_vial_is_made_up_to_its_content(which in 0..VIALS.len(), content in 100_000_i64..8_000_000) {
        let bench = Bench { salt: VIALS[which], step_ug: 1000, planned_ug: 2_000_000, chloride_ug: 0, added: false };
        let plan = plan(&bench).expect("a plan");
        let weighed = Weighed { salt: Mass::micrograms(content).ok(), ..Weighed::default() };
        let now = AsWeighed::after(&plan, weighed).expect("a comparison");
        prop_assume!(now.salt != Off::AsPlanned);
        let [only] = now.ways.as_slice() else { panic!("{:?}", now.ways) };
        prop_assert!(matches!(only.way, Way::MakeUpTo { .. }), "{only:?}");
    }
}
