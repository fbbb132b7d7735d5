#pragma once

#include <atomic>
#include <filesystem>
#include <fstream>
#include <map>
#include <string>

#include <unistd.h>

#include <fmt/format.h>

// For tests of the loaders only: the smallest trade that has one of everything, all of it invented,
// and a folder that disappears again.

namespace rollwright::trade {

using FolderFiles = std::map<std::string, std::string>;

class TestFolder {
 public:
  explicit TestFolder(const FolderFiles& files) {
    static std::atomic<int> next{0};
    path_ = std::filesystem::temp_directory_path() /
            fmt::format("rollwright_trade_{}_{}", ::getpid(), next++);
    std::filesystem::create_directories(path_);
    for (const auto& [name, text] : files) {
      std::filesystem::create_directories((path_ / name).parent_path());
      std::ofstream(path_ / name, std::ios::binary) << text;
    }
  }
  ~TestFolder() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
  }
  TestFolder(const TestFolder&) = delete;
  TestFolder& operator=(const TestFolder&) = delete;

  [[nodiscard]] std::string path() const { return path_.string(); }

 private:
  std::filesystem::path path_;
};

[[nodiscard]] inline FolderFiles mini_trade() {
  return {
      {"attributes.toml", R"(
[[attribute]]
id = "steerer"
name = "steerer, upper diameter"
type = "number"
unit = "mm"
help = "Caliper on the bare steerer."
[[attribute]]
id = "mount"
name = "brake mount"
type = "word"
choices = ["IS", "PM"]
[[attribute]]
id = "mounts"
name = "brake mounts taken"
type = "words"
choices = ["IS", "PM", "FM"]
[[attribute]]
id = "teeth"
name = "teeth"
type = "number"
[[attribute]]
id = "rated_load"
name = "load released"
type = "number"
unit = "kg"
[[attribute]]
id = "child_seat"
name = "child seat"
type = "flag"
[[attribute]]
id = "region"
name = "region"
type = "word"
choices = ["EU", "US"]
[[attribute]]
id = "load"
name = "rider and luggage"
type = "number"
unit = "kg"
[[attribute]]
id = "rider_mass"
name = "rider mass"
type = "number"
unit = "kg"
[[attribute]]
id = "width"
name = "inner width"
type = "number"
unit = "mm"
)"},
      {"kinds.toml", R"(
[[kind]]
id = "K-FK"
name = "fork"
attributes = ["steerer", "mount", "rated_load"]
decisive = ["steerer"]
lead_time_group = "frames"
[[kind]]
id = "K-HS"
name = "headset"
attributes = ["steerer"]
lead_time_group = "small parts"
[[kind]]
id = "K-BR"
name = "brake"
attributes = ["mounts"]
lead_time_group = "small parts"
[[kind]]
id = "K-RM"
name = "rim"
attributes = ["width", "teeth"]
lead_time_group = "small parts"
[[kind]]
id = "K-ORDER"
name = "order"
attributes = ["region", "load", "child_seat"]
[[kind]]
id = "K-RIDER"
name = "rider"
attributes = ["rider_mass"]
)"},
      {"slots.toml", R"(
[[slot]]
id = "fork"
name = "fork"
kinds = ["K-FK"]
[[slot]]
id = "headset"
name = "headset"
kinds = ["K-HS"]
[[slot]]
id = "front_brake"
name = "front brake"
kinds = ["K-BR"]
[[slot]]
id = "rear_brake"
name = "rear brake"
kinds = ["K-BR"]
[[slot]]
id = "front_rim"
name = "front rim"
kinds = ["K-RM"]
[[slot]]
id = "rear_rim"
name = "rear rim"
kinds = ["K-RM", "K-HS"]
[[slot]]
id = "rear_wheel"
name = "rear wheel"
kinds = ["K-RM"]
[[slot]]
id = "front_wheel"
name = "front wheel"
kinds = ["K-RM"]
)"},
      {"traits.toml", R"(
[[trait]]
id = "shop_built"
name = "built here"
any_of = []
[[trait]]
id = "is_mount"
name = "IS brake mount"
any_of = [
  [{ that = "fork.mount", is = ["IS"] }],
  [{ that = "fork.*filled" }, { that = "headset.*filled", is = ["no"] }],
]
)"},
      {"templates.toml", R"(
[[template]]
id = "T1"
name = "test bike"
required = ["fork", "headset"]
optional = ["front_brake", "rear_brake", "front_rim", "rear_rim", "rear_wheel"]
traits = ["shop_built"]
[template.kinds]
rear_rim = ["K-RM"]
)"},
      {"tables/mounts.csv", R"(# invented
fork_mount,brake_mount,width,verdict,note,adapter,source
IS,IS,*,fits,,,invented
IS,PM,20..30,fits with,IS to PM,K-BR,invented
PM,*,25,not known,,,invented
)"},
      {"rules/steering.toml", R"(
[[rule]]
id = "C-001"
severity = "FIT"
shape = "same"
left = "fork.steerer"
right = "headset.steerer"
tolerance = "0.1 mm"
sentence = "The fork's steerer measures {left}, the headset takes {right}: {part:headset} would rattle on {fork.steerer}."
source = "invented"
[[rule]]
id = "C-002"
severity = "STOP"
shape = "at_least"
left = "fork.rated_load"
right = "order.load"
offset = 5
if = [{ that = "order.child_seat", is = ["yes"] }, { that = "front_brake.*filled" }]
sentence = "{left} is less than {right}."
source = "invented"
[[rule]]
id = "C-003"
severity = "WORK"
shape = "within"
left = "{end}_rim|{end}_wheel.width"
low = 15
high = "3 cm"
ends = ["front", "rear"]
sentence = "The {end} rim is {{end}_rim|{end}_wheel.width} wide, not {low} to {high}."
source = "invented"
[[rule]]
id = "C-004"
severity = "FIT"
shape = "pair_table"
left = ["fork.mount", "front_brake.mounts", "front_rim.width"]
table = "mounts"
sentence = "The brake does not go on this mount."
source = "invented"
[[rule]]
id = "C-005"
severity = "STOP"
shape = "needs"
left = "order.region"
words = ["US"]
slots = ["front_brake", "rear_brake"]
sentence = "Two brakes are needed."
source = "invented"
[[rule]]
id = "C-006"
severity = "CLAIM"
shape = "sum"
terms = ["*.mass", "rider.rider_mass"]
right = "fork.rated_load"
offset = "1 kg"
sentence = "Together {sum}, more than {right}."
source = "invented"
[[rule]]
id = "C-007"
severity = "WORK"
shape = "computed"
compute = "primary_ratio"
left = ["front_rim.teeth", "rear_wheel.teeth"]
low = 1.2
sentence = "The ratio is {answer}."
source = "invented"
[[rule]]
id = "C-008"
severity = "WORK"
shape = "one_of"
left = "fork.mount"
words = ["IS"]
sentence = "Only {right}."
source = "invented"
)"},
      {"questions.toml", R"(
[[question]]
id = "C-010"
severity = "STOP"
ask = "Do the hoses pass the top bearing?"
if_no = "The hoses do not pass the top bearing."
owner = "lead mechanic"
slots = ["headset"]
if = [{ that = "fork.mount", is = ["PM"] }]
source = "invented"
)"},
      {"cautions.toml", R"(
[[caution]]
id = "brakes"
sentence = "Brakes stop people: a second person checks them."
)"},
      {"operations.toml", R"(
[[operation]]
id = "A-1"
name = "Fit the fork"
area = "build stand"
after = []
minutes = [10, 20]
skill = "L2"
steps = "Press the headset."
[[operation]]
id = "A-2"
name = "Fit the brakes"
area = "build stand"
after = ["A-1"]
minutes = [20, 30]
skill = "L2"
when = { all = ["is_mount"], any = [], none = [] }
cautions = ["brakes"]
steps = "Bolt them on."
[[operation]]
id = "A-3"
name = "Check the brakes"
area = "test bench"
after = ["A-2"]
minutes = [5, 5]
skill = "L3"
second_person = true
steps = "Pull both levers."
)"},
      {"care.toml", R"(
[[operation]]
id = "C-1"
name = "Look at the brakes"
area = "build stand"
after = []
minutes = [5, 10]
skill = "L2"
steps = "Pull both levers."
)"},
      {"readings.toml", R"(
[[reading]]
id = "depth"
operations = ["A-1"]
name = "depth of the fork"
unit = "cm"
least = 1.5
most = 2.5
target = 2
stop_above = 3
part_most = ["front_rim.width"]
source = "invented"
[[reading]]
id = "levers"
operations = ["A-3"]
name = "levers hold"
pass_or_fail = true
stop = true
when = { all = [], any = ["is_mount", "shop_built"], none = [] }
source = "invented"
[[reading]]
id = "cut"
operations = ["A-1"]
name = "length of the steerer"
unit = "mm"
compute = "steerer_cut"
source = "invented"
)"},
      {"checklists.toml", R"(
[[line]]
id = "D1"
list = "handover"
text = "The bike is clean"
mark = "N"
)"},
      {"lead_times.csv",
       R"(group,stocked_low,stocked_high,importer_low,importer_high,made_low,made_high,spread,source
small parts,1,3,4,10,15,40,low,invented
frames,,,15,40,60,180,high,invented
)"},
      {"label_sheets.csv",
       R"(sheet,name,page_width,page_height,columns,rows,label_width,label_height,left,top,gap_across,gap_down,edge,source
two,"two, invented",100,60,2,1,45,50,4,5,2,0,3,invented
roll,"roll, invented",57,32,1,1,57,32,0,0,0,0,1.5,invented
)"},
  };
}

/// The files with one text in one of them replaced; the text must be there.
[[nodiscard]] inline FolderFiles with_change(FolderFiles files, const std::string& file,
                                             const std::string& from, const std::string& to) {
  std::string& text = files[file];
  const std::size_t at = text.find(from);
  if (at == std::string::npos && !from.empty()) {
    throw std::logic_error("the test changes a text that is not in " + file + ": " + from);
  }
  text.replace(at, from.size(), to);
  return files;
}

}  // namespace rollwright::trade
