#include <fmt/format.h>

#include "base/text.hpp"
#include "cli/columns.hpp"
#include "cli/verbs.hpp"
#include "units/money.hpp"

namespace rollwright::cli {
namespace {

/// What these verbs may ask for.
struct GoodsOptions {
  std::string line;
  shop::Received received;
  shop::GoodsStepGiven step;
  shop::MiscountGiven miscount;
  shop::ClaimStep claim;
  shop::LegGiven leg;
  std::string day;
  std::string mode;
  std::string part;
  shop::UseGiven use;
};

std::string odds_text(const shop::ArrivalLine& line) {
  if (!line.day_50 || !line.day_90) return "no day can be said";
  return fmt::format("50 % by {}, 90 % by {}", in_short(*line.day_50), in_short(*line.day_90));
}

std::string counts_text(const shop::ArrivalLine& line) {
  std::vector<std::string> said;
  const auto add = [&said](int count, const char* what) {
    if (count > 0) said.push_back(fmt::format("{} {}", count, what));
  };
  add(line.to_come, "to come");
  add(line.to_look_at, "to look at");
  add(line.accepted, "accepted");
  add(line.quarantined, "quarantined");
  add(line.sent_back, "sent back");
  add(line.written_off, "written off");
  return fmt::format("{} ordered: {}", line.ordered, said.empty() ? "none left" : join(said, ", "));
}

void add_lines(Columns& columns, const std::vector<shop::ArrivalLine>& lines) {
  for (const shop::ArrivalLine& line : lines) {
    columns.row({"  " + line.id, std::to_string(line.to_come + line.to_look_at), line.name,
                 line.supplier_name,
                 line.confirmed ? "confirmed " + in_short(*line.confirmed) : "no day confirmed",
                 odds_text(line), join(line.orders, ", ")});
  }
}

std::string title_of(const shop::ArrivalGroup& group, Day today) {
  if (group.kind == "here") return "To look at";
  if (group.kind == "overdue") return "Overdue";
  if (!group.day) return "No day can be said";
  return group.day == today ? "Today" : in_words(*group.day);
}

std::string photographs(std::size_t count) {
  if (count == 0) return {};
  return count == 1 ? "; 1 photograph" : fmt::format("; {} photographs", count);
}

std::string claim_text(const shop::ClaimView& claim) {
  return fmt::format("  claim {}: {}, {} of them; {} ({}){}\n", claim.number, claim.trouble,
                     claim.pieces, claim.clock, claim.terms, photographs(claim.photos.size()));
}

Result<std::optional<Day>> day_given(const GoodsOptions& options) {
  if (options.day.empty()) return std::optional<Day>();
  const Result<Day> day = parse_day(options.day);
  if (!day) {
    return refuse(day.error().code, day.error().sentence,
                  {.field = "--day", .value = options.day});
  }
  return std::optional(*day);
}

Result<shop::ArrivalLine> shipped(const GoodsOptions& options, shop::Shop& shop,
                            const std::string& who) {
  shop::LegGiven given = options.leg;
  const auto day = day_given(options);
  if (!day) return std::unexpected(day.error());
  given.day = *day;
  return shop.leg_done(options.line, given, who);
}

Result<shop::ArrivalLine> confirm(const GoodsOptions& options, shop::Shop& shop,
                            const std::string& who) {
  const auto day = day_given(options);
  if (!day) return std::unexpected(day.error());
  return shop.confirm_line(options.line, day->value_or(Day{}), who);
}

/// Declares verbs one by one.
class GoodsVerbs {
 public:
  explicit GoodsVerbs(Verbs& verbs)
      : verbs_(verbs), kept_(std::make_shared<GoodsOptions>()), o_(*kept_) {}

  /// `run(options, shop, who)`; what it answers is printed.
  template <class Run>
  CLI::App* verb(const char* name, const char* help, Run run) {
    return verbs_.add(name, help, [o = kept_, run](const Common& common, shop::Shop& shop) {
      return answer(common, run(*o, shop, common.who));
    });
  }
  CLI::App* with_line(CLI::App* sub) {
    sub->add_option("line", o_.line, "number of the purchase line, as in P-3101")->required();
    return sub;
  }

  void arrivals() {
    verbs_.add("arrivals", "what comes in: by day, overdue, in quarantine, claims",
               [o = kept_](const Common& common, shop::Shop& shop) {
                 return o->line.empty() ? answer(common, shop.arrivals())
                                        : answer(common, shop.arrival(o->line));
               })
        ->add_option("line", o_.line, "one purchase line; left out: all");
  }

  void receive() {
    shop::Received& r = o_.received;
    auto* sub = with_line(verb("receive", "book in what came of a purchase line",
                               [](const GoodsOptions& o, shop::Shop& shop, const std::string& who) {
                                 return shop.receive(o.line, o.received, who);
                               }));
    sub->add_option("--quantity", r.quantity, "pieces that came");
    sub->add_option("--damaged", r.damaged, "of these: damage seen");
    sub->add_option("--hidden", r.hidden, "of these: damage found in the box");
    sub->add_option("--wrong", r.wrong, "of these: another part than ordered");
    sub->add_option("--to-look-at", r.to_look_at, "of these: unloaded, not looked at yet");
    sub->add_option("--missing", r.missing, "beside these: on the paper, but not in the box");
    sub->add_option("--serial", r.serials, "the number of each good piece");
    sub->add_option("--lot", r.lot, "lot or batch of the good pieces");
    sub->add_option("--carrier", r.carrier, "parcel, road, rail, sea or air");
    sub->add_option("--note", r.note, "one line that goes with it");
  }

  void miscounted() {
    shop::MiscountGiven& m = o_.miscount;
    auto* sub = with_line(verb("miscounted", "a delivery was counted wrong, or is another line's",
                               [](const GoodsOptions& o, shop::Shop& shop, const std::string& who)
                                   -> Result<shop::ArrivalLine> {
                                 shop::MiscountGiven given = o.miscount;
                                 const auto day = day_given(o);
                                 if (!day) return std::unexpected(day.error());
                                 given.day = *day;
                                 return shop.miscounted(o.line, given, who);
                               }));
    sub->add_option("--counted", m.counted, "pieces that were booked in")->required();
    sub->add_option("--right", m.right, "of this line that really came")->required();
    sub->add_option("--why", m.why, "one line for the journal")->required();
    sub->add_option("--day", o_.day, "on which they were booked in; the newest when left out");
    sub->add_option("--serial", m.serials, "the number of each piece that goes or comes");
    sub->add_option("--right-line", m.right_line, "the line to which the pieces belong");
  }

  void goods() {
    shop::GoodsStepGiven& s = o_.step;
    auto* sub = with_line(verb("goods", "what happens to pieces that came",
                               [](const GoodsOptions& o, shop::Shop& shop, const std::string& who) {
                                 return shop.goods_step(o.line, o.step, who);
                               }));
    sub->add_option("step", s.step,
                    "accept, quarantine, release, \"send back\", \"send again\", \"write off\", "
                    "\"still comes\" or \"find bad\"")
        ->required();
    sub->add_option("--quantity", s.pieces, "pieces")->required();
    sub->add_option("--trouble", s.trouble, "short, wrong, \"damage seen\" or \"damage hidden\"");
    sub->add_option("--serial", s.serials, "the number of each piece");
    sub->add_option("--carrier", s.carrier, "who brought it");
    sub->add_option("--note", s.note, "one line that goes with it");
  }

  void claim() {
    auto* sub = with_line(verb("claim", "what was said of a claim, or what came of it",
                               [](const GoodsOptions& o, shop::Shop& shop, const std::string& who) {
                                 return shop.claim_step(o.line, o.claim, who);
                               }));
    sub->add_option("what", o_.claim.what, "told, credited, \"sent again\" or refused")
        ->required();
    sub->add_option("--number", o_.claim.number, "of the claim, where there are several");
    sub->add_option("--note", o_.claim.note, "one line that goes with it");
  }

  void road() {
    auto* sub = with_line(verb("shipped", "a leg of a line's road is done",
                               [](const GoodsOptions& o, shop::Shop& shop, const std::string& who) {
                                 return shipped(o, shop, who);
                               }));
    sub->add_option("--leg", o_.leg.leg, "which; the next one when left out");
    sub->add_option("--day", o_.day, "on which day; today when left out");
    with_line(verb("freight", "let a line come by another mode of freight",
                   [](const GoodsOptions& o, shop::Shop& shop, const std::string& who) {
                     return shop.freight_mode(o.line, o.mode, who);
                   }))
        ->add_option("mode", o_.mode, "as the supplier offers it: sea, air")
        ->required();
    with_line(verb("confirm", "the supplier names a day for a line",
                   [](const GoodsOptions& o, shop::Shop& shop, const std::string& who) {
                     return confirm(o, shop, who);
                   }))
        ->add_option("day", o_.day, "as in 2026-12-04")
        ->required();
  }

  void small_stock() {
    verb("small-stock", "parts used up apart from orders, and when they are bought again",
         [](const GoodsOptions&, shop::Shop& shop, const std::string&) {
           return shop.small_stock();
         });
    auto* sub = verb("used", "take pieces off the free shelf",
                     [](const GoodsOptions& o, shop::Shop& shop, const std::string& who) {
                       return shop.use_up(o.part, o.use, who);
                     });
    sub->add_option("part", o_.part, "number of the part")->required();
    sub->add_option("--quantity", o_.use.quantity, "pieces")->required();
    sub->add_option("--for", o_.use.what_for, "what for, as in repair");
  }

 private:
  Verbs& verbs_;
  std::shared_ptr<GoodsOptions> kept_;
  GoodsOptions& o_;
};

}  // namespace

void add_goods_verbs(Verbs& verbs) {
  GoodsVerbs goods(verbs);
  goods.arrivals();
  goods.receive();
  goods.miscounted();
  goods.goods();
  goods.claim();
  goods.road();
  goods.small_stock();
}

std::string as_text(const shop::ArrivalsView& view) {
  using enum Columns::Side;
  std::string text = view.sentence + "\n";
  for (const shop::ArrivalGroup& group : view.groups) {
    Columns columns({kLeft, kRight, kLeft, kLeft, kLeft, kLeft, kLeft});
    add_lines(columns, group.lines);
    text += fmt::format("\n{}\n{}", title_of(group, view.today), columns.text());
  }
  if (!view.quarantine.empty()) text += "\nIn quarantine\n";
  for (const shop::ArrivalLine& line : view.quarantine) {
    text += fmt::format("  {}  {} {}, {}\n", line.id, line.quarantined, line.name,
                        line.supplier_name);
  }
  if (!view.lately.empty()) text += "\nBooked in lately\n";
  for (const shop::ArrivalLine& line : view.lately) {
    for (const shop::DeliveryView& each : line.deliveries) {
      text += fmt::format("  {}  {} {}, {} on {}\n", line.id, each.pieces, line.name,
                          line.supplier_name, in_short(each.day));
    }
  }
  if (!view.claims.empty()) text += "\nClaims\n";
  for (const shop::ArrivalLine& line : view.claims) {
    for (const shop::ClaimView& claim : line.claims) {
      if (claim.settled) continue;
      text += fmt::format("  {}  {} {}: {}; {}\n", line.id, claim.pieces, line.name,
                          claim.trouble, claim.clock);
    }
  }
  return text;
}

std::string as_text(const shop::SmallStockView& view) {
  using enum Columns::Side;
  Columns columns({kLeft, kLeft, kRight, kLeft, kLeft, kLeft, kLeft});
  for (const shop::StockLineView& line : view.lines) {
    columns.row({"  " + line.part, line.name,
                 line.to_buy > 0 ? fmt::format("buy {}", line.to_buy) : "",
                 line.to_buy > 0 ? "from " + line.supplier_name : "",
                 fmt::format("{:.1f} a week", line.per_week),
                 line.run_out ? fmt::format("lacking in {:.0f} of 100 before the next ({})",
                                            100 * *line.run_out, line.next)
                              : "no day of the next can be said",
                 line.why});
  }
  return fmt::format("{}\n{}\n{}", view.sentence, view.how, columns.text());
}

std::string as_text(const shop::ArrivalLine& line) {
  std::string text = fmt::format("{}  {} ({}), {}, {}\n{}\n", line.id, line.name, line.part,
                                 line.supplier_name, line.state, counts_text(line));
  if (!line.orders.empty()) text += "for " + join(line.orders, ", ") + "\n";
  if (line.to_come + line.to_look_at > 0) {
    text += fmt::format("{} ({})\n", odds_text(line), line.basis);
  }
  if (!line.where.empty()) text += line.where + "\n";
  for (const shop::FreightModeView& mode : line.modes) {
    text += fmt::format("  by {}: 50 % by {}, 90 % by {}{}{}\n", mode.mode, in_short(mode.day_50),
                        in_short(mode.day_90),
                        mode.extra_cents ? fmt::format(", {} extra", shown(Money{*mode.extra_cents}))
                                         : ", price not known",
                        mode.usual ? " (as things stand)" : "");
  }
  for (const shop::MarkedView& marked : line.marked) {
    text += fmt::format("  {}{}{}: {}\n", marked.serial,
                        marked.serial.empty() || marked.lot.empty() ? "" : ", ",
                        marked.lot.empty() ? "" : fmt::format("lot {} ({})", marked.lot,
                                                              marked.pieces),
                        marked.place);
  }
  for (const shop::ClaimView& claim : line.claims) text += claim_text(claim);
  for (const shop::DeliveryView& each : line.deliveries) {
    text += fmt::format("  {} came on {}, {}\n", each.pieces, in_short(each.day), each.condition);
  }
  return text;
}

}  // namespace rollwright::cli
