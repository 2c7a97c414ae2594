import type { PageTexts } from "../PageTexts.ts";

/** How a test is set up and asked for: cue cards. Common practice; the person's own wording of a laboratory comes first. */
export const CUES: PageTexts["cues"] = {
  CMJ: {
    setUp: ["Zero the plates with nobody on them.", "One foot on each plate; hands on the hips, or free, as the protocol says."],
    say: ["Stand tall and still.", "When I say go: dip down and jump as high as you can, in one movement.", "Legs long in the air. Land on both feet, then stand still until I say stop."],
    timing: ["Start recording, then two seconds of standing, then go. Stop two seconds after the person stands still again."],
    repeatIf: ["the hands left the hips", "the legs were tucked in the air", "a foot landed off the plates", "the person moved before go"],
  },
  SJ: {
    setUp: ["Zero the plates with nobody on them.", "Let the person find a squat, thighs about level or as agreed, that can be held without pain; hands on the hips."],
    say: ["Go down to your squat and hold it still.", "When I say go: straight up, as high as you can, without dipping first.", "Legs long in the air. Land on both feet, then stand still until I say stop."],
    timing: ["Hold for two to three seconds before go. Stop two seconds after the person stands still again."],
    repeatIf: ["the person dipped before the push", "the hold was not still", "the hands left the hips", "a foot landed off the plates"],
  },
  DJ: {
    setUp: ["Box beside the plates, or on a plate of its own; begin with a low one.", "Zero the plates. Nothing and nobody on the landing plates before the drop."],
    say: ["Step off the box, do not jump off and do not step down.", "As soon as you touch: as high as you can, with as short a contact as you can.", "Land on both feet, then stand still until I say stop."],
    timing: ["Start recording before the step. Stop two seconds after the person stands still again: the velocity at touchdown is taken from that stand."],
    repeatIf: ["the feet touched down one after the other", "there was a double contact", "the person jumped off, or stepped down", "a foot landed off the plates"],
  },
  RH: {
    setUp: ["Zero the plates with nobody on them.", "A few easy hops for practice, then rest."],
    say: ["One jump, then ten hops on the spot: as high as you can, with as short a contact as you can.", "Stiff legs, land on both feet. Stay on the plates after the last one."],
    timing: ["Start recording, then two seconds of standing, then go. Stop after the last landing."],
    repeatIf: ["a foot landed off the plates", "a hop was skipped or doubled", "the person lost balance or control"],
  },
  IMTP: {
    setUp: ["Weigh the person without the bar first.", "Bar at mid-thigh, straps on, shoulders over the bar, back neutral. Practice pulls of rising effort."],
    say: ["Take the slack out of the straps and hold still.", "When I say pull: push the ground away as fast and as hard as you can. Keep pushing.", "And stop."],
    timing: ["One second of still, light tension before the pull; three to five seconds of effort."],
    repeatIf: ["the person pulled before the signal, or jerked", "the peak came at the very end", "the posture was lost", "the tension before the pull was high"],
  },
};
