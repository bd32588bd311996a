// Rosters, session sheets, marks, schemes, edits and tables of rates, whatever their form.
#include "entry.hpp"
#include "pulsewright/beat_edits.hpp"
#include "pulsewright/intensity.hpp"
#include "pulsewright/phases.hpp"
#include "pulsewright/read.hpp"
#include "pulsewright/roster.hpp"

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace pulsewright;
  static const fuzz::ScratchFile file{"list.csv"};
  const auto& path = file.write(data, size);
  fuzz::may_refuse([&] { static_cast<void>(read_roster(path)); });
  fuzz::may_refuse([&] { static_cast<void>(read_session_sheet(path)); });
  fuzz::may_refuse([&] { static_cast<void>(read_marks(path)); });
  fuzz::may_refuse([&] { static_cast<void>(read_scheme(path)); });
  fuzz::may_refuse([&] { static_cast<void>(read_beat_edits(path)); });
  fuzz::may_refuse([&] { static_cast<void>(read_rates(path)); });
  static_cast<void>(holds_rates(path));
  return 0;
}

std::vector<std::string> seeds() {
  return {"code,age_years,sex,resting_bpm\nwren,15,female,66\nheron,16,,\n",
          R"({"people": [{"code": "wren", "age_years": 15}, {"code": "heron", "resting_bpm": null}]})",
          "code,file,from,to,exertion\nwren,a.csv,0,60,12\nheron,b.csv,10:00,10:30,\n",
          "start_s,phase,exertion\n0,rest,6\n60,work,15\n",
          "of,from_percent,category\nreserve,0,light\nreserve,50,hard\n",
          R"({"name": "ours", "of": "reserve", "categories": [{"category": "light", "from_percent": 0}]})",
          "action,time_s,to_s,label,author,made_at,reason\nadd,1.5,,normal,wren,,seen\nmove,2.5,2.6,,wren,,late\n",
          "start_s,end_s,bpm\n0,8,72.5\n2,10,73\n",
          "time;hr\n10:00:00;72\n10:00:01;73,5\n"};
}
