#include "trade/load_trade.hpp"

#include <algorithm>

#include <gtest/gtest.h>

#include "trade/loops.hpp"
#include "trade/mini_trade.hpp"

namespace rollwright::trade {
namespace {

/// One mistake in an otherwise good trade, and the one problem it must give.
struct Mistake {
  std::string claim;
  std::string file;
  std::string from;
  std::string to;
  std::string line_of;  // the problem stands on the line of this text of the file; "" means line 0
  std::string field;
  std::string value;
  std::string says;               // part of the sentence
  std::string problem_file = {};  // where the problem is told, when not in `file`
};

int line_of(const std::string& text, const std::string& piece) {
  const std::size_t at = text.find(piece);
  if (piece.empty() || at == std::string::npos) return 0;
  return 1 + static_cast<int>(std::count(text.begin(), text.begin() + static_cast<long>(at), '\n'));
}

std::string all_of(const Problems& problems) {
  std::string text;
  for (const Error& problem : problems) text += problem.full() + "\n";
  return text;
}

const std::vector<Mistake>& mistakes() {
  const std::string rules = "rules/steering.toml";
  static const std::vector<Mistake> kMistakes = {
      // attributes.toml
      {"UnknownKey", "attributes.toml", "help = ", "hlep = ", "hlep", "hlep", "",
       "did you mean \"help\""},
      {"UnknownHeading", "attributes.toml", "[[attribute]]\nid = \"load\"",
       "[[atribute]]\nid = \"load2\"\n[[attribute]]\nid = \"load\"", "[[atribute]]", "atribute", "",
       "did you mean \"attribute\""},
      {"UnknownType", "attributes.toml", "type = \"flag\"", "type = \"flagg\"", "flagg", "type",
       "flagg", "did you mean \"flag\""},
      {"UnknownUnit", "attributes.toml",
       "id = \"width\"\nname = \"inner width\"\ntype = \"number\"\nunit = \"mm\"",
       "id = \"width\"\nname = \"inner width\"\ntype = \"number\"\nunit = \"mmm\"", "\"mmm\"",
       "unit", "mmm", "this unit is not known"},
      {"UnitOfAWord", "attributes.toml", "type = \"word\"\nchoices = [\"EU\"",
       "type = \"word\"\nunit = \"mm\"\nchoices = [\"EU\"", "unit = \"mm\"\nchoices", "unit", "mm",
       "only numbers have a unit"},
      {"ChoicesOfANumber", "attributes.toml", "name = \"teeth\"",
       "name = \"teeth\"\nchoices = [\"x\"]", "choices = [\"x\"]", "choices", "",
       "only attributes of type word or words"},
      {"RepeatedChoice", "attributes.toml", "[\"EU\", \"US\"]", "[\"EU\", \"US\", \"EU\"]",
       "[\"EU\", \"US\", \"EU\"]", "choices", "EU", "twice"},
      {"RepeatedAttribute", "attributes.toml", "[[attribute]]\nid = \"load\"",
       "[[attribute]]\nid = \"teeth\"\nname = \"again\"\ntype = \"number\"\n[[attribute]]\nid = "
       "\"load\"",
       "id = \"teeth\"\nname = \"again\"", "id", "teeth", "first at attributes.toml, line 19"},
      {"MissingName", "attributes.toml", "name = \"teeth\"\n", "", "[[attribute]]\nid = \"teeth\"",
       "name", "", "this is missing"},
      {"NotToml", "cautions.toml", "id = \"brakes\"", "id = brakes", "id = brakes", "", "",
       "this is not TOML"},
      // kinds.toml, slots.toml, templates.toml
      {"UnknownAttributeOfAKind", "kinds.toml", "\"width\", \"teeth\"",
       "\"width\", \"teeth\", \"teath\"", "teath", "attributes", "teath", "did you mean \"teeth\""},
      {"DecisiveNotAmongAttributes", "kinds.toml", "decisive = [\"steerer\"]",
       "decisive = [\"width\"]", "decisive", "decisive", "width", "no attribute of this kind"},
      {"UnknownLeadTimeGroup", "kinds.toml", "lead_time_group = \"frames\"",
       "lead_time_group = \"frame\"", "\"frame\"", "lead_time_group", "frame",
       "did you mean \"frames\""},
      {"UnknownKindOfASlot", "slots.toml", "kinds = [\"K-FK\"]", "kinds = [\"K-FX\"]", "K-FX",
       "kinds", "K-FX", "no kind of part is called so"},
      {"PseudoKindInASlot", "slots.toml", "kinds = [\"K-RM\", \"K-HS\"]",
       "kinds = [\"K-RM\", \"K-RIDER\"]", "K-RIDER", "kinds", "K-RIDER", "no kind of part"},
      {"ZeroOfASlot", "slots.toml", "name = \"fork\"", "name = \"fork\"\nquantity = 0", "quantity",
       "quantity", "0", "between 1 and 200"},
      {"UnknownSlotOfABuild", "templates.toml", "\"headset\"]", "\"headset\", \"hedset\"]",
       "hedset", "required", "hedset", "did you mean \"headset\""},
      {"SlotRequiredAndOptional", "templates.toml", "optional = [", "optional = [\"fork\", ",
       "optional", "optional", "fork", "required as well"},
      {"KindNotOfTheSlot", "templates.toml", "rear_rim = [\"K-RM\"]", "rear_rim = [\"K-FK\"]",
       "K-FK", "kinds.rear_rim", "K-FK", "no kind of this slot"},
      {"NarrowedSlotOutsideTheBuild", "templates.toml", "rear_rim = [\"K-RM\"]",
       "front_wheel = [\"K-RM\"]", "front_wheel", "kinds.front_wheel", "",
       "this build has no such slot"},
      {"UnknownTraitOfABuild", "templates.toml", "traits = [\"shop_built\"]",
       "traits = [\"shop_built\", \"is_mout\"]", "is_mout", "traits", "is_mout",
       "did you mean \"is_mount\""},
      // traits.toml
      {"UnknownSlotInATrait", "traits.toml", "fork.mount", "frok.mount", "frok", "any_of",
       "frok.mount", "did you mean \"fork\""},
      {"WordThatCannotBe", "traits.toml", "is = [\"IS\"]", "is = [\"IX\"]", "IX", "any_of", "IX",
       "mount is never that"},
      {"ConditionOnANumber", "traits.toml", "{ that = \"fork.mount\", is = [\"IS\"] }",
       "{ that = \"fork.steerer\", is = [\"28\"] }", "fork.steerer", "any_of", "fork.steerer",
       "a number is compared"},
      {"AtLeastOfAWord", "traits.toml", "{ that = \"fork.mount\", is = [\"IS\"] }",
       "{ that = \"fork.mount\", at_least = \"28 mm\" }", "fork.mount", "any_of", "fork.mount",
       "only a number"},
      {"AtLeastInAnotherUnit", "traits.toml", "{ that = \"fork.mount\", is = [\"IS\"] }",
       "{ that = \"fork.steerer\", at_least = \"28 kg\" }", "fork.steerer", "any_of.at_least",
       "28 kg", ""},
      {"AtLeastAndWords", "traits.toml", "{ that = \"fork.mount\", is = [\"IS\"] }",
       "{ that = \"fork.steerer\", at_least = \"28 mm\", is = [\"28\"] }", "fork.steerer",
       "any_of.is", "", ""},
      {"UnknownKeyInACondition", "traits.toml", "headset.*filled\", is =",
       "headset.*filled\", si =", "headset", "any_of.si", "", "did you mean \"is\""},
      {"FilledWithAWord", "traits.toml", "is = [\"no\"]", "is = [\"maybe\"]", "maybe", "any_of",
       "headset.*filled", "is = [\"yes\"]"},
      {"TraitThatNeverHolds", "templates.toml", "traits = [\"shop_built\"]", "", "[[trait]]",
       "any_of", "", "it would never hold", "traits.toml"},
      // tables
      {"UnknownVerdict", "tables/mounts.csv", "*,fits,,", "*,fit,,", "*,fit,", "verdict", "fit",
       "did you mean \"fits\""},
      {"CellThatNoPartCanBe", "tables/mounts.csv", "IS,IS,*", "IZ,IS,*", "IZ,", "fork_mount", "IZ",
       "mount is never that"},
      {"BackwardRange", "tables/mounts.csv", "20..30", "30..20", "30..20", "width", "30..20",
       "runs backwards"},
      {"FitsWithNothing", "tables/mounts.csv", "fits with,IS to PM,K-BR", "fits with,,", "20..30",
       "note", "", "say with what it fits"},
      {"UnknownAdapter", "tables/mounts.csv", "K-BR", "K-BX", "20..30", "adapter", "K-BX",
       "no kind of part is called so"},
      {"RowTwice", "tables/mounts.csv", "PM,*,25", "IS,IS,*,fits,,,invented\nPM,*,25",
       "IS,IS,*,fits,,,invented\nPM", "fork_mount", "IS", "decides first"},
      {"MissingVerdict", "tables/mounts.csv", "width,verdict", "width,verdikt", "", "verdict", "",
       "this column is missing"},
      {"EmptyCell", "tables/mounts.csv", "PM,*,25", "PM,,25", "PM,,25", "brake_mount", "",
       "write * for any"},
      // rules
      {"UnknownSeverity", rules, "severity = \"CLAIM\"", "severity = \"CLAM\"", "CLAM", "severity",
       "CLAM", "did you mean \"CLAIM\""},
      {"UnknownShape", rules, "shape = \"same\"", "shape = \"sam\"", "\"sam\"", "shape", "sam",
       "did you mean \"same\""},
      {"MissingField", rules, "right = \"order.load\"\n", "", "[[rule]]\nid = \"C-002\"", "right",
       "", "a rule of shape at_least needs it"},
      {"FieldOfAnotherShape", rules, "tolerance = \"0.1 mm\"", "offset = \"0.1 mm\"",
       "offset = \"0.1", "offset", "", "a rule of shape same takes left, right and tolerance only"},
      {"BothWaysAtOnce", rules, "words = [\"US\"]",
       "words = [\"US\"]\nright = \"order.child_seat\"", "slots = [\"front", "slots", "",
       "either `slots` or `right`"},
      {"UnknownOperandSlot", rules, "right = \"headset.steerer\"", "right = \"hedset.steerer\"",
       "hedset", "right", "hedset.steerer", "did you mean \"headset\""},
      {"UnknownOperandAttribute", rules, "right = \"headset.steerer\"",
       "right = \"headset.steere\"", "headset.steere\"", "right", "headset.steere",
       "no attribute is called steere; did you mean \"steerer\""},
      {"AttributeThatNoKindOfTheSlotHas", rules, "right = \"headset.steerer\"",
       "right = \"headset.width\"", "headset.width", "right", "headset.width",
       "no kind of part for headset has width"},
      {"FactThatTheOrderLacks", rules, "right = \"order.load\"", "right = \"order.width\"",
       "order.width", "right", "order.width", "no kind of part for order has width"},
      {"DifferentDimensions", rules, "right = \"order.load\"", "right = \"6 mm\"", "\"6 mm\"",
       "right", "6 mm", "this is a length, but fork.rated_load is a mass"},
      {"WordAgainstNumber", rules, "right = \"headset.steerer\"", "right = \"fork.mount\"",
       "right = \"fork.mount\"", "right", "fork.mount", "this is word"},
      {"OffsetOfAnotherDimension", rules, "offset = \"1 kg\"", "offset = \"1 mm\"", "\"1 mm\"",
       "offset", "1 mm", "mm is a unit of length, not of mass"},
      {"AmountThatIsNone", rules, "low = 15", "low = \"fifteen\"", "fifteen", "low", "fifteen",
       "neither a fact"},
      {"LowAboveHigh", rules, "low = 15", "low = 45", "high = \"3 cm\"", "high", "3 cm",
       "could never hold"},
      {"WordNotAmongChoices", rules, "words = [\"IS\"]", "words = [\"ISO\"]", "ISO", "words", "ISO",
       "mount is never that"},
      {"UnknownTable", rules, "table = \"mounts\"", "table = \"mount\"", "\"mount\"", "table",
       "mount", "did you mean \"mounts\""},
      {"TooFewColumns", rules, ", \"front_rim.width\"]", "]", "left = [\"fork.mount\"", "left", "",
       "the table has 3 columns"},
      {"NumberInAColumnOfWords", rules, "[\"fork.mount\", \"front_brake",
       "[\"fork.steerer\", \"front_brake", "left = [\"fork.steerer", "left", "fork.steerer",
       "the column fork_mount of tables/mounts.csv holds words"},
      {"NeedsWithoutWords", rules, "words = [\"US\"]\n", "", "[[rule]]\nid = \"C-005\"", "words",
       "", "for which words"},
      {"UnknownNeededSlot", rules, "\"rear_brake\"]", "\"rear_break\"]", "rear_break", "slots",
       "rear_break", "did you mean \"rear_brake\""},
      {"StarOutsideASum", rules, "left = \"fork.rated_load\"", "left = \"*.mass\"",
       "left = \"*.mass\"", "left", "*.mass", "only the terms of a sum"},
      {"UnknownCalculation", rules, "compute = \"primary_ratio\"", "compute = \"primary_ration\"",
       "primary_ration", "compute", "primary_ration", "did you mean \"primary_ratio\""},
      {"TooFewArguments", rules, "left = [\"front_rim.teeth\", \"rear_wheel.teeth\"]",
       "left = [\"front_rim.teeth\"]", "left = [\"front_rim.teeth\"]", "left", "",
       "primary_ratio takes 2: front teeth, rear teeth; here are 1"},
      {"ArgumentOfAnotherDimension", rules, "\"rear_wheel.teeth\"]", "\"rear_wheel.width\"]",
       "rear_wheel.width", "left", "rear_wheel.width", "rear teeth must be a plain number"},
      {"NoLimit", rules, "low = 1.2\n", "", "[[rule]]\nid = \"C-007\"", "low", "",
       "write `low`, `high` or both"},
      {"UnknownEnd", rules, "ends = [\"front\", \"rear\"]", "ends = [\"front\", \"raer\"]", "raer",
       "ends", "raer", "did you mean \"rear\""},
      {"EndWithoutEnds", rules, "ends = [\"front\", \"rear\"]\n", "", "[[rule]]\nid = \"C-003\"",
       "ends", "", "the rule has no `ends`"},
      {"EndsWithoutEnd", rules, "shape = \"one_of\"", "shape = \"one_of\"\nends = [\"front\"]",
       "ends = [\"front\"]\nleft", "ends", "", "nothing in the rule says {end}"},
      {"SentenceNamingNothing", rules, "{left} is less than {right}.",
       "{lft} is less than {right}.", "{lft}", "sentence", "{lft}", "{left}"},
      {"SentenceNamingNoSlot", rules, "{part:headset}", "{part:heatset}", "heatset", "sentence",
       "{part:heatset}", "did you mean \"headset\""},
      {"SentenceWithAnOpenBrace", rules, "{left} is less than", "{left is less than", "{left is",
       "sentence", "{left is less than {", "no partner"},
      {"UnknownConditionWord", rules, "is = [\"yes\"] }, {", "is = [\"ja\"] }, {", "\"ja\"", "if",
       "ja", "child_seat is never that"},
      {"RepeatedRule", rules, "id = \"C-008\"", "id = \"C-001\"",
       "id = \"C-001\"\nseverity = \"WORK\"", "id", "C-001",
       "first at rules/steering.toml, line 3"},
      // questions.toml
      {"UnknownOwner", "questions.toml", "\"lead mechanic\"", "\"led mechanic\"", "led mechanic",
       "owner", "led mechanic", "did you mean \"lead mechanic\""},
      {"UnknownSlotOfAQuestion", "questions.toml", "[\"headset\"]", "[\"heatset\"]", "heatset",
       "slots", "heatset", "did you mean \"headset\""},
      {"UnknownConditionOfAQuestion", "questions.toml", "fork.mount", "fork.mont", "fork.mont", "if",
       "fork.mont", "did you mean \"mount\""},
      {"UnknownSeverityOfAQuestion", "questions.toml", "\"STOP\"", "\"HALT\"", "HALT", "severity",
       "HALT", "this is no severity"},
      {"QuestionWithBraces", "questions.toml", "Do the hoses pass", "Do {part:fork}'s hoses pass",
       "{part:fork}", "ask", "Do {part:fork}'s hoses pass the top bearing?", "without braces"},
      {"QuestionWithoutAnEnd", "questions.toml",
       "if_no = \"The hoses do not pass the top bearing.\"\n", "", "[[question]]", "if_no", "",
       "this is missing"},
      {"QuestionOfARulesId", "questions.toml", "id = \"C-010\"", "id = \"C-001\"", "id = \"C-001\"",
       "id", "C-001", "has a rule of this id"},
      {"UnknownKeyOfAQuestion", "questions.toml", "owner = ", "ownr = \"desk\"\nowner = ", "ownr",
       "ownr", "", "did you mean \"owner\""},
      // operations, readings, checks, lead times
      {"UnknownPredecessor", "operations.toml", "after = [\"A-2\"]", "after = [\"A-2\", \"A-9\"]",
       "[[operation]]\nid = \"A-3\"", "after", "A-9", "no operation is called so"},
      {"Loop", "operations.toml", "after = []", "after = [\"A-3\"]", "[[operation]]\nid = \"A-1\"",
       "after", "A-3", "A-1 after A-3 after A-2 after A-1"},
      {"UnknownSkill", "operations.toml", "skill = \"L3\"", "skill = \"L4\"", "L4", "skill", "L4",
       "no skill is called so"},
      {"BackwardMinutes", "operations.toml", "minutes = [10, 20]", "minutes = [20, 10]",
       "minutes = [20, 10]", "minutes", "20, 10", "from the least to the most"},
      {"UnknownCaution", "operations.toml", "cautions = [\"brakes\"]", "cautions = [\"breaks\"]",
       "breaks", "cautions", "breaks", "no caution is called so"},
      {"UnknownWheel", "operations.toml", "cautions = [\"brakes\"]", "hangs = [\"front\"]",
       "hangs", "hangs", "front", "no wheel is called so"},
      {"NobodysHands", "operations.toml", "cautions = [\"brakes\"]", "hands = 0", "hands = 0",
       "hands", "0", "between 1 and 4"},
      {"HandsOfUnknownBikes", "operations.toml", "cautions = [\"brakes\"]",
       "hands = 2\nhands_when = { all = [\"is_mond\"] }", "is_mond", "hands_when.all", "is_mond",
       "did you mean \"is_mount\""},
      {"HandsWhenWithoutHands", "operations.toml", "cautions = [\"brakes\"]",
       "hands_when = { all = [\"is_mount\"] }", "hands_when", "hands_when", "",
       "say how many with hands = 2"},
      {"UnknownTraitOfAnOperation", "operations.toml", "all = [\"is_mount\"]",
       "all = [\"is_mond\"]", "is_mond", "when.all", "is_mond", "did you mean \"is_mount\""},
      {"UnknownOperationOfAReading", "readings.toml", "operations = [\"A-3\"]",
       "operations = [\"A-4\"]", "A-4", "operations", "A-4", "no operation is called so"},
      {"PartLimitOfAnotherDimension", "readings.toml", "[\"front_rim.width\"]",
       "[\"fork.rated_load\"]", "fork.rated_load", "part_most", "fork.rated_load",
       "the reading is a length"},
      {"LeastAboveMost", "readings.toml", "most = 2.5\ntarget = 2\n", "most = 1.2\n", "most = 1.2",
       "most", "", "less than `least`"},
      {"StopInsideThePass", "readings.toml", "stop_above = 3", "stop_above = 2.1", "stop_above",
       "stop_above", "", "inside the pass limit"},
      {"UnknownTarget", "readings.toml", "\"steerer_cut\"", "\"steerer_cutt\"", "steerer_cutt",
       "compute", "steerer_cutt", "did you mean \"steerer_cut\""},
      {"PassOrFailWithAUnit", "readings.toml", "pass_or_fail = true",
       "pass_or_fail = true\nunit = \"mm\"", "unit = \"mm\"\nstop", "unit", "", "has no unit"},
      {"UnknownList", "checklists.toml", "list = \"handover\"", "list = \"hand over\"", "hand over",
       "list", "hand over", "did you mean \"handover\""},
      {"UnknownMark", "checklists.toml", "mark = \"N\"", "mark = \"X\"", "\"X\"", "mark", "X",
       "S (stop), M (must) or N (note)"},
      {"UnknownSpread", "lead_times.csv", ",high,invented", ",hihg,invented", "hihg", "spread",
       "hihg", "did you mean \"high\""},
      {"BackwardDays", "lead_times.csv", "15,40,60", "50,40,60", "50,40", "importer_high", "40",
       "less than importer_low"},
      {"DaysThatAreNone", "lead_times.csv", "1,3,4", "1,three,4", "three", "stocked_high", "three",
       "number of working days"},
      {"LabelsBeyondThePage", "label_sheets.csv", ",45,50,", ",48,50,", ",48,50,", "label_width", "48",
       "end at 102 mm and the page at 100 mm"},
      {"LabelsTooSmallToPrint", "label_sheets.csv", ",57,32,0", ",57,9,0", ",57,9,0", "label_height",
       "9", "from 15"},
      {"LabelSheetTwice", "label_sheets.csv", "\nroll,", "\ntwo,", "two,\"roll", "sheet", "two",
       "twice"},
  };
  return kMistakes;
}

class LoadTradeRefuses : public testing::TestWithParam<Mistake> {};

TEST_P(LoadTradeRefuses, NamingFileLineFieldValueAndWhatIsRight) {
  const Mistake& mistake = GetParam();
  const FolderFiles files = with_change(mini_trade(), mistake.file, mistake.from, mistake.to);
  const TestFolder folder(files);
  const Problems problems = load_trade(folder.path()).problems;
  ASSERT_EQ(problems.size(), 1U) << all_of(problems);
  const Error& problem = problems[0];
  const std::string& file = mistake.problem_file.empty() ? mistake.file : mistake.problem_file;
  EXPECT_EQ(problem.place.file, file) << problem.full();
  EXPECT_EQ(problem.place.line, line_of(files.at(file), mistake.line_of)) << problem.full();
  EXPECT_EQ(problem.place.field, mistake.field) << problem.full();
  EXPECT_EQ(problem.place.value, mistake.value) << problem.full();
  EXPECT_NE(problem.sentence.find(mistake.says), std::string::npos) << problem.full();
}

INSTANTIATE_TEST_SUITE_P(Mistakes, LoadTradeRefuses, testing::ValuesIn(mistakes()),
                         [](const auto& about) { return about.param.claim; });

TEST(LoadTrade, LoadsTheMiniTradeWithoutAProblem) {
  const TestFolder folder(mini_trade());
  const LoadedTrade loaded = load_trade(folder.path());
  EXPECT_EQ(all_of(loaded.problems), "");
  EXPECT_EQ(loaded.trade.kinds.size(), 6U);
  EXPECT_EQ(loaded.trade.slots[0].id.text, "fork") << "slots keep the order of the file";
  EXPECT_EQ(loaded.trade.rules.size(), 7U + 4U);
  EXPECT_EQ(loaded.trade.lead_times.size(), 2U);
  EXPECT_EQ(loaded.trade.label_sheets.size(), 2U);
}

TEST(LoadTrade, MakesOneRuleForEachEndAndVariant) {
  const TestFolder folder(mini_trade());
  const LoadedTrade loaded = load_trade(folder.path());
  std::vector<std::string> names;
  for (const Rule& rule : loaded.trade.rules) {
    if (rule.id == "C-003") names.push_back(rule.name());
  }
  EXPECT_EQ(names, (std::vector<std::string>{"C-003 front front_rim", "C-003 front front_wheel",
                                             "C-003 rear rear_rim", "C-003 rear rear_wheel"}));
  const Rule& rear = loaded.trade.rules[5];
  EXPECT_EQ(rear.left[0].slot.text, "rear_wheel");
  EXPECT_EQ(rear.sentence, "The rear rim is {rear_wheel.width} wide, not {low} to {high}.");
  EXPECT_EQ(scope_of(rear), std::vector<SlotId>{SlotId("rear_wheel")});
}

TEST(LoadTrade, TakesBareAmountsInTheUnitOfTheFactTheyAreComparedWith) {
  FolderFiles files = with_change(mini_trade(), "attributes.toml",
                                  "name = \"inner width\"\ntype = \"number\"\nunit = \"mm\"",
                                  "name = \"inner width\"\ntype = \"number\"\nunit = \"cm\"");
  files = with_change(files, "rules/steering.toml", "\"3 cm\"", "\"310 mm\"");
  const TestFolder folder(files);
  const LoadedTrade loaded = load_trade(folder.path());
  ASSERT_EQ(all_of(loaded.problems), "");
  const Rule& rule = loaded.trade.rules[2];
  EXPECT_EQ(std::get<double>(rule.right[0].literal), 150) << "a bare 15 beside a width in cm";
  EXPECT_EQ(std::get<double>(rule.right[1].literal), 310);
  EXPECT_EQ(loaded.trade.rules[1].offset, 5) << "a bare 5 beside a mass in kg";
}

TEST(LoadTrade, GivesAComputedRuleBothLimits) {
  const TestFolder folder(mini_trade());
  const LoadedTrade loaded = load_trade(folder.path());
  const auto rule = std::ranges::find(loaded.trade.rules, "C-007", &Rule::id);
  ASSERT_NE(rule, loaded.trade.rules.end());
  ASSERT_EQ(rule->right.size(), 2U);
  EXPECT_EQ(std::get<double>(rule->right[0].literal), 1.2);
  EXPECT_EQ(std::get<double>(rule->right[1].literal), std::numeric_limits<double>::infinity());
}

TEST(LoadTrade, ReadsTheRangesOfTables) {
  const TestFolder folder(mini_trade());
  const LoadedTrade loaded = load_trade(folder.path());
  const PairTable& table = loaded.trade.tables.at("mounts");
  EXPECT_EQ(table.numeric, (std::vector<bool>{false, false, true}));
  EXPECT_EQ(table.rows[1].ranges[2], (std::pair(20.0, 30.0)));
  EXPECT_EQ(table.rows[2].ranges[2], (std::pair(25.0, 25.0)));
  EXPECT_EQ(table.rows[1].verdict, Verdict::kFitsWith);
  EXPECT_EQ(table.rows[1].line, 4);
}

TEST(LoadTrade, TurnsFilledWithNoRound) {
  const TestFolder folder(mini_trade());
  const LoadedTrade loaded = load_trade(folder.path());
  const Condition& empty = loaded.trade.traits.at("is_mount").any_of[1][1];
  EXPECT_TRUE(empty.negated);
  EXPECT_TRUE(empty.words.empty());
}

TEST(LoadTrade, ReadsLimitsOfReadingsInTheOwnUnit) {
  const TestFolder folder(mini_trade());
  const Reading reading = load_trade(folder.path()).trade.readings[0];
  EXPECT_EQ(reading.least, 15);
  EXPECT_EQ(reading.most, 25);
  EXPECT_EQ(reading.stop_above, 30);
}

// Derived: "usually 4 to 10" is read as one tenth below 4 and one tenth above 10.
TEST(LoadTrade, PutsATenthOfTheDaysOutsideEachEndOfARange) {
  const TestFolder folder(mini_trade());
  const LoadedTrade loaded = load_trade(folder.path());
  for (const auto& [group, low, high] :
       {std::tuple("small parts", 1.0, 3.0), std::tuple("frames", 15.0, 40.0)}) {
    const Spread& spread = loaded.trade.lead_times.at(group).stocked;
    EXPECT_NEAR(quantile(spread, 0.1), low, 1e-9) << group;
    EXPECT_NEAR(quantile(spread, 0.9), high, 1e-9) << group;
    EXPECT_GE(spread.least, 0) << group;
  }
}

TEST(LoadTrade, ReadsAQuestionAsARuleThatFailsWhereverItIsAsked) {
  const TestFolder folder(mini_trade());
  const LoadedTrade loaded = load_trade(folder.path());
  ASSERT_EQ(loaded.trade.questions.size(), 1U);
  const Question& question = loaded.trade.questions[0];
  EXPECT_EQ(question.owner, "lead mechanic");
  const Rule rule = as_rule(question);
  EXPECT_EQ(rule.sentence, "The hoses do not pass the top bearing.");
  EXPECT_EQ(scope_of(rule), (std::vector<SlotId>{SlotId("fork"), SlotId("headset")}));
  ASSERT_EQ(rule.conditions.size(), 2U);
  EXPECT_EQ(rule.conditions[0].operand.attribute, "*filled");
}

TEST(Question, IsAnsweredOnlyForThePartsThatTheAnswerWasAbout) {
  const TestFolder folder(mini_trade());
  const LoadedTrade loaded = load_trade(folder.path());
  const Question& question = loaded.trade.questions[0];
  Order order;
  order.choices = {{SlotId("fork"), PartId("FK-1")}, {SlotId("rear_rim"), PartId("RM-1")}};
  EXPECT_EQ(answer_to(question, order), nullptr);
  order.answers["C-010"] = {.answer = Answer::kYes, .who = "mara", .about = about(question, order)};
  ASSERT_NE(answer_to(question, order), nullptr);
  order.choices[SlotId("rear_rim")] = PartId("RM-2");
  EXPECT_NE(answer_to(question, order), nullptr) << "the question does not look at the rim";
  order.choices[SlotId("headset")] = PartId("HS-1");
  EXPECT_EQ(answer_to(question, order), nullptr) << "with a headset it is another question";
  order.choices.erase(SlotId("headset"));
  EXPECT_NE(answer_to(question, order), nullptr);
  order.choices[SlotId("fork")] = PartId("FK-2");
  EXPECT_EQ(answer_to(question, order), nullptr) << "another fork";
}

TEST(Question, ThatNeedsTheBikeWaitsUntilItStands) {
  Question question;
  EXPECT_TRUE(is_time_for(question, OrderState::kDraft));
  question.on_the_bike = true;
  for (const OrderState early : {OrderState::kDraft, OrderState::kAgreed, OrderState::kKitted,
                                 OrderState::kUnderWay}) {
    EXPECT_FALSE(is_time_for(question, early)) << word_of(early);
  }
  for (const OrderState late : {OrderState::kBuilding, OrderState::kArrived, OrderState::kChecking,
                                OrderState::kReady, OrderState::kInCare}) {
    EXPECT_TRUE(is_time_for(question, late)) << word_of(late);
  }
}

TEST(LoadTrade, TellsAMissingFileOnceAndNothingThatFollowsFromIt) {
  for (const auto& [name, text] : mini_trade()) {
    FolderFiles files = mini_trade();
    files.erase(name);
    const TestFolder folder(files);
    const Problems problems = load_trade(folder.path()).problems;
    ASSERT_EQ(problems.size(), 1U) << name << "\n" << all_of(problems);
    const bool by_name = !name.starts_with("tables/") && !name.starts_with("rules/");
    if (!by_name) continue;
    EXPECT_EQ(problems[0].place.file, name);
    EXPECT_EQ(problems[0].code, Code::kNotFound);
  }
}

TEST(LoadTrade, RefusesAVariantWhoseSlotLacksTheAttribute) {
  const std::string rules = "rules/steering.toml";
  const TestFolder folder(
      with_change(with_change(mini_trade(), rules, "_wheel.width\"\n", "_brake.width\"\n"), rules,
                  "_wheel.width} wide", "_brake.width} wide"));
  const Problems problems = load_trade(folder.path()).problems;
  ASSERT_EQ(problems.size(), 4U) << all_of(problems) << "two ends, operand and sentence";
  EXPECT_EQ(problems[0].place.field, "left");
  EXPECT_EQ(problems[0].place.value, "front_brake.width");
  EXPECT_NE(problems[0].sentence.find("no kind of part for front_brake has width"),
            std::string::npos);
}

TEST(LoadTrade, RefusesAFolderThatIsNotThere) {
  const Problems problems = load_trade("/nowhere/at/all").problems;
  ASSERT_EQ(problems.size(), 1U);
  EXPECT_EQ(problems[0].code, Code::kNotFound);
}

TEST(LoadTrade, ListsEveryProblemInTheOrderOfTheLines) {
  FolderFiles files =
      with_change(mini_trade(), "rules/steering.toml", "severity = \"FIT\"", "severity = \"FAT\"");
  files = with_change(files, "rules/steering.toml", "words = [\"IS\"]", "words = [\"ISO\"]");
  files = with_change(files, "rules/steering.toml", "order.load", "order.laod");
  files = with_change(files, "kinds.toml", "name = \"headset\"", "nome = \"headset\"");
  const TestFolder folder(files);
  const Problems problems = load_trade(folder.path()).problems;
  ASSERT_EQ(problems.size(), 5U) << all_of(problems);
  EXPECT_EQ(problems[0].place.file, "kinds.toml");
  EXPECT_EQ(problems[1].place.file, "kinds.toml");
  EXPECT_TRUE(std::ranges::is_sorted(problems.begin() + 2, problems.end(), {},
                                     [](const Error& problem) { return problem.place.line; }));
}

TEST(Loops, AreNamedOnceForEachKnot) {
  EXPECT_EQ(loops_among({{"a", {"b"}}, {"b", {"c"}}, {"c", {"b"}}, {"d", {"d"}}, {"e", {}}}),
            (std::vector<std::vector<std::string>>{{"b", "c", "b"}, {"d", "d"}}));
  EXPECT_TRUE(loops_among({{"a", {"b", "c"}}, {"b", {"c"}}, {"c", {}}}).empty());
}

TEST(TradeData, LoadsWithoutAProblem) {
  const LoadedTrade loaded = load_trade(ROLLWRIGHT_ROOT "/data/trade");
  EXPECT_EQ(all_of(loaded.problems), "");
  EXPECT_GE(loaded.trade.rules.size(), 80U);
  EXPECT_GE(loaded.trade.operations.size(), 60U);
  EXPECT_GE(loaded.trade.readings.size(), 60U);
}

}  // namespace
}  // namespace rollwright::trade
