// A class of any size with heart rates that nobody had: everybody climbs stairs three times, each in their own way. Written as tables of rates, with roster and sheet.
import { mkdirSync, writeFileSync } from "node:fs";
import path from "node:path";

const birds = ["wren", "heron", "plover", "avocet", "bittern", "curlew", "dunlin", "egret", "finch", "godwit", "hobby", "ibis", "jay", "kite", "lark",
  "martin", "nuthatch", "osprey", "pipit", "quail", "redstart", "siskin", "tern", "veery", "whimbrel", "yaffle", "brambling", "crake", "dipper", "eider",
  "fulmar", "goldcrest", "harrier", "kestrel", "linnet", "merlin", "oriole", "petrel", "ruff", "shrike"];

// The rate at a time: towards what is asked for, with a time constant of half a minute, and a little unrest.
function course(person, length) {
  let rate = person.resting + 8;
  const rows = ["time_s,bpm"];
  for (let time = 0; time < length; time += 2) {
    const working = time > 60 && time % 180 > 60 && time < length - 150;
    const asked = person.resting + (working ? person.drive * (person.maximum - person.resting) : 12);
    rate += (asked - rate) * (2 / 30);
    const unrest = 1.5 * Math.sin(time / 7 + person.number) + Math.sin(time / 3.1);
    const lost = person.number % 7 === 3 && time > 300 && time < 380;
    rows.push(`${time},${lost ? "" : (rate + unrest).toFixed(2)}`);
  }
  return rows.join("\n") + "\n";
}

// Returns the names of sheet and roster. Of every class of ten or more one has no file and one is not known.
export function madeUpClass(folder, size, length = 720) {
  mkdirSync(folder, { recursive: true });
  const roster = ["code,age_years,resting_bpm,maximum_bpm,ceiling_bpm"];
  const sheet = ["code,file,activity,exertion,laps"];
  for (let number = 0; number < size; ++number) {
    const code = birds[number % birds.length] + (number < birds.length ? "" : String(Math.floor(number / birds.length)));
    const person = { number, resting: 58 + ((number * 7) % 30), maximum: 195 + ((number * 11) % 18), drive: 0.35 + 0.6 * (((number * 17) % 23) / 23) };
    const missing = size >= 10 && number === 5, unknown = size >= 10 && number === 8;
    if (!missing) writeFileSync(path.join(folder, `${code}.csv`), course(person, length));
    if (!unknown)
      roster.push([code, 14 + (number % 3), number % 6 === 4 ? "" : person.resting, number % 5 === 2 ? person.maximum : "", number === 12 ? 180 : ""].join(","));
    sheet.push([code, `${code}.csv`, "stair-climb", number % 4 === 1 ? "" : 9 + ((number * 5) % 11), number % 9 === 6 ? "" : 4 + ((number * 13) % 7)].join(","));
  }
  const names = { sheet: path.join(folder, "sheet.csv"), roster: path.join(folder, "roster.csv") };
  writeFileSync(names.sheet, sheet.join("\n") + "\n");
  writeFileSync(names.roster, roster.join("\n") + "\n");
  return names;
}
