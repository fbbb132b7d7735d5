#include <fmt/format.h>

#include "base/text.hpp"
#include "cli/as_text.hpp"
#include "cli/columns.hpp"
#include "units/money.hpp"

namespace rollwright::cli {
namespace {

constexpr auto kLeftSide = Columns::Side::kLeft;
constexpr auto kRightSide = Columns::Side::kRight;

std::string cents_text(std::int64_t cents) { return shown(Money{cents}); }

std::string next_text(const shop::NextMoveView& move) {
  std::string text = fmt::format("\n{}{}, moved by {}\n", move.to, move.is_back ? " (again)" : "",
                                 move.moved_by);
  for (const std::string& missing : move.missing) text += "  missing: " + missing + "\n";
  for (const std::string& unless : move.to_meet) text += "  unless said: " + unless + "\n";
  for (const shop::SayView& say : move.to_say) {
    text += fmt::format("  say: {}={} {}{}\n", say.key, say.as, say.ask,
                        say.needed ? "" : " (may be left out)");
  }
  return text;
}

std::string flag_text(const shop::FlagView& flag) {
  std::string text = flag.flag;
  if (!flag.reason.empty()) text += ": " + flag.reason;
  if (flag.until) text += fmt::format(", until {}", in_words(*flag.until));
  if (flag.is_due) text += " (look at it again)";
  return text + "\n";
}

std::string lines_text(const std::vector<shop::MoneyLineView>& lines) {
  Columns columns({kLeftSide, kRightSide, kLeftSide});
  for (const shop::MoneyLineView& line : lines) {
    columns.row({line.what, cents_text(line.cents), line.why});
  }
  return columns.text();
}

}  // namespace

std::string as_text(const shop::LifeView& view) {
  std::string text = fmt::format("Order {} is {}. {}\n", view.order, view.state, view.sentence);
  for (const std::string& done : view.done) text += done + "\n";
  for (const shop::FlagView& flag : view.flags) text += flag_text(flag);
  if (view.signed_version > 0) {
    text += fmt::format("Signed: version {}{}\n", view.signed_version,
                        view.changed_since_signed.empty()
                            ? "."
                            : ", changed since: " + join(view.changed_since_signed, "; ") + ".");
  }
  for (const shop::NextMoveView& move : view.next) text += next_text(move);
  Columns parts({kLeftSide, kLeftSide, kLeftSide, kLeftSide});
  for (const shop::FreezeView& part : view.freeze) {
    parts.row({part.slot_name, part.name, part.point + " " + part.word, part.why});
  }
  text += "\n" + parts.text();
  for (const shop::VersionView& version : view.versions) {
    text += fmt::format("Version {}, signed by {} on {} for {}\n", version.version,
                        version.signed_by, in_words(version.day, true),
                        cents_text(version.price_cents));
    for (const std::string& line : version.differences) text += "  " + line + "\n";
  }
  for (const shop::MovedView& moved : view.moves) {
    text += fmt::format("{} to {}, {} on {}{}\n", moved.from, moved.to, moved.by,
                        in_words(moved.day, true), moved.note.empty() ? "" : ": " + moved.note);
  }
  return text;
}

std::string as_text(const shop::ChangePriceView& view) {
  std::string text = view.sentence + "\n" + lines_text(view.lines);
  for (const std::string& finding : view.findings) text += finding + "\n";
  return text + fmt::format("To be signed then: {}\n", cents_text(view.signed_price_cents));
}

std::string as_text(const shop::SettlementView& view) {
  std::string text = view.law + "\n" + view.sentence + "\n" + lines_text(view.lines);
  for (const shop::OpenLineView& line : view.open_lines) {
    text += fmt::format("Still open: {} ({}) with {}, {}\n", line.line, line.part, line.supplier,
                        line.state);
  }
  return text;
}

}  // namespace rollwright::cli
