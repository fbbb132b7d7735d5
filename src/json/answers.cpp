#include "json/answers.hpp"

#include <nlohmann/json.hpp>

// Days and what may be missing need a word of their own; everything else is field by field.
namespace nlohmann {

template <>
struct adl_serializer<rollwright::Day> {
  static void to_json(ordered_json& json, rollwright::Day day) { json = rollwright::iso(day); }
};

template <class T>
struct adl_serializer<std::optional<T>> {
  static void to_json(ordered_json& json, const std::optional<T>& value) {
    if (value) {
      json = *value;
    } else {
      json = nullptr;
    }
  }
};

template <class Tag>
struct adl_serializer<rollwright::Id<Tag>> {
  static void to_json(ordered_json& json, const rollwright::Id<Tag>& id) { json = id.text; }
};

template <>
struct adl_serializer<rollwright::Error> {
  static void to_json(ordered_json& json, const rollwright::Error& error) {
    json = {{"code", rollwright::row_of(error.code).word}, {"sentence", error.sentence},
            {"file", error.place.file}, {"line", error.place.line},
            {"field", error.place.field}, {"value", error.place.value}};
  }
};

}  // namespace nlohmann

// One line per struct: its fields under their own names. Room for all of them at once: where the list
// of fields grows, the library copies what it holds.
#define ROLLWRIGHT_ONE(field) +1
#define ROLLWRIGHT_FIELD(field) fields.emplace_back(#field, value.field);
#define ROLLWRIGHT_JSON(Type, ...)                                                     \
  static void to_json(nlohmann::ordered_json& json, const Type& value) {               \
    nlohmann::ordered_json::object_t fields;                                           \
    fields.reserve(NLOHMANN_JSON_EXPAND(NLOHMANN_JSON_PASTE(ROLLWRIGHT_ONE, __VA_ARGS__))); \
    NLOHMANN_JSON_EXPAND(NLOHMANN_JSON_PASTE(ROLLWRIGHT_FIELD, __VA_ARGS__))           \
    json = std::move(fields);                                                          \
  }

namespace rollwright {

static void to_json(nlohmann::ordered_json& json, Dimension dimension) { json = word_of(dimension); }

}  // namespace rollwright

namespace rollwright::trade {

ROLLWRIGHT_JSON(Limit, least, most, source)
ROLLWRIGHT_JSON(SheetValue, reading, name, dimension, unit, pass_or_fail, stop, stop_below, stop_above, target, strictest,
                limits, how, count, target_text, range_text, us_text)
ROLLWRIGHT_JSON(SheetStep, number, operation, name, area, skill, minutes_low, minutes_high, after, fits,
                second_person, hands, unattended_minutes, steps, tools, consumables, cautions, values,
                done)
ROLLWRIGHT_JSON(SheetPart, slot, position, part, name, quantity, has_serial)
ROLLWRIGHT_JSON(SheetCheck, id, list, text, limit, mark, covers)
ROLLWRIGHT_JSON(Sheet, order, rider, need, build, frame, parts, steps, checks, minutes_low,
                minutes_high, longest_chain_low, longest_chain_high, open_questions)

ROLLWRIGHT_JSON(SheetColumn, heading, goes_to, unit, from_quantity, parted_by, words)
ROLLWRIGHT_JSON(ColumnMapping, supplier, separator, decimal, kind, new_number, keep_names, nothing,
                columns)

}  // namespace rollwright::trade

namespace rollwright::aids {

static void to_json(nlohmann::ordered_json& json, InputKind kind) { json = word_of(kind); }
ROLLWRIGHT_JSON(Input, key, label, kind, dimension, unit, preset, choices, help, media)
ROLLWRIGHT_JSON(Aid, id, title, lead, inputs, method, source, caution)
ROLLWRIGHT_JSON(Row, name, value, us, note)
ROLLWRIGHT_JSON(Table, title, columns, rows)
ROLLWRIGHT_JSON(Scale::Mark, at, label, group)
ROLLWRIGHT_JSON(Scale, title, unit, logarithmic, marks)
ROLLWRIGHT_JSON(Band, title, along_unit, unit, along, low, middle, high)
ROLLWRIGHT_JSON(GoingOn, label, fields)
ROLLWRIGHT_JSON(WheelOnStand::Spoke, number, side, angle_deg, hub_angle_deg, hub_radius_mm, quarters,
                turn, now_n, now_uncertainty_n, after_n, after_uncertainty_n, target_n)
ROLLWRIGHT_JSON(WheelOnStand::Place, angle_deg, lateral_now_mm, radial_now_mm, lateral_after_mm,
                radial_after_mm)
ROLLWRIGHT_JSON(WheelOnStand::Limits, lateral_mm, lateral_middle_mm, radial_mm, radial_middle_mm,
                highest_n, spread)
ROLLWRIGHT_JSON(WheelOnStand, radius_mm, verdict, said, spokes, rim, limits, bent_at_deg, read_next)
ROLLWRIGHT_JSON(Reckoned, rows, tables, scales, bands, cautions, going_on, wheel)

ROLLWRIGHT_JSON(FilledField, key, label, value, from, origin, question)
ROLLWRIGHT_JSON(FilledAid, aid, end, ends, fields, open, reckoned, refusal)
ROLLWRIGHT_JSON(Doing, name, value, us, note, aid, end, presets, questions)
ROLLWRIGHT_JSON(Does, order, doings, has_charge)

}  // namespace rollwright::aids

namespace rollwright::shop {

ROLLWRIGHT_JSON(ColumnView, heading, first_values, words, filled, proposal, why)
ROLLWRIGHT_JSON(MappingView, file, rows, sentence, saved, mapping, columns, kind_why, decimal_why)
ROLLWRIGHT_JSON(ListChangeView, what, from, to)
ROLLWRIGHT_JSON(ContradictionView, attribute, name, measured, by, date, listed, taken_over)
ROLLWRIGHT_JSON(ListProblemView, line, field, value, sentence)
ROLLWRIGHT_JSON(ListRowView, line, fate, article, part, name, kind, changes, contradictions, notes,
                problems)
ROLLWRIGHT_JSON(PreviewView, file, supplier, supplier_name, day, sentence, counts, contradictions,
                problems, rows, left_out, refused_rows, as_seen)
ROLLWRIGHT_JSON(TakenListView, number, supplier, supplier_name, file, day, taken, who, added,
                changed, same, refused, undone)
ROLLWRIGHT_JSON(TakeInView, taken, sentence, list, preview)
ROLLWRIGHT_JSON(UndoView, number, sentence, restored, removed, discontinued, left)
ROLLWRIGHT_JSON(AttributeChoiceView, id, name, type, unit, units, choices)
ROLLWRIGHT_JSON(KindChoiceView, id, name, attributes)
ROLLWRIGHT_JSON(SupplierChoiceView, id, name, has_mapping)
ROLLWRIGHT_JSON(CatalogueView, suppliers, kinds, attributes, targets, availability, lists,
                most_bytes, most_rows)

ROLLWRIGHT_JSON(PartLine, id, name, maker, kind, price_cents, mass_kg)
ROLLWRIGHT_JSON(FindingView, rule, severity, verdict, sentence, source, slots)
ROLLWRIGHT_JSON(SlotView, slot, name, required, quantity, part, verdict, here, here_on, open, of)
ROLLWRIGHT_JSON(BestView, price_cents, mass_kg, masses_not_known, ready, proven)
ROLLWRIGHT_JSON(SpecView, slots, findings, missing, verdict, rules_checked, rules_not_known,
                rules_do_not_apply, price_cents, mass_kg, masses_not_known, best, status, fitting,
                possible, count_exact)
ROLLWRIGHT_JSON(PointView, x, y)
ROLLWRIGHT_JSON(OutlineView, drawn, why_not, points, lengths, labels, clash)
ROLLWRIGHT_JSON(RiderView, name, contact, height_mm, inseam_mm, mass_kg)
ROLLWRIGHT_JSON(NeedView, words, use_class, luggage_kg, child_seat, region, assist_class,
                front_brake_lever, route, by_freight)
ROLLWRIGHT_JSON(StepView, state, reached, current)
ROLLWRIGHT_JSON(OrderLine, id, rider, build, need, state, flags, verdict, needed_by, promised,
                price_cents, parts_here, parts_needed)
ROLLWRIGHT_JSON(NumberView, name, value, us, how)
ROLLWRIGHT_JSON(QuestionView, id, sentence, severity, owner, people, open, verdict, answer, who, day,
                note, before, slots, source)
ROLLWRIGHT_JSON(OrderQuestions, order, rider, state, questions)
ROLLWRIGHT_JSON(BudgetView, at_most_cents, over_cents)
ROLLWRIGHT_JSON(FollowUpView, day, about, is_due)
ROLLWRIGHT_JSON(OrderView, line, rider, need, build_id, held_because, states, opened,
                deposit_cents, budget, follow_up, may_be_followed_up, spec, outline, no_promise,
                numbers, questions, revision)
ROLLWRIGHT_JSON(ChoiceView, part, status, chosen, note, touches, price_difference_cents,
                mass_difference_kg, ready_difference_days, proven, here)
ROLLWRIGHT_JSON(SlotChoicesView, order, slot, name, may_be_empty, choices)
ROLLWRIGHT_JSON(ChangeView, slot, slot_name, from, from_name, to, to_name)
ROLLWRIGHT_JSON(RepairView, changes, price_difference_cents, mass_difference_kg, verdict, sentence)
ROLLWRIGHT_JSON(ClashView, order, slot, part, choices, rules, opens)
ROLLWRIGHT_JSON(FillView, slot, slot_name, part, name, price_cents, mass_kg)
ROLLWRIGHT_JSON(CompletionView, aim, sentence, price_cents, mass_kg, masses_not_known, ready,
                verdict, proven, fills)
ROLLWRIGHT_JSON(CurvePoint, day, probability)
ROLLWRIGHT_JSON(HoldView, what, kind, share)
ROLLWRIGHT_JSON(PromiseView, order, sentence, promised, chance_kept, day_50, day_80, day_90,
                day_95, day_90_simulated, promises_known, curve, holds, draws, placements, seconds)
ROLLWRIGHT_JSON(WindowView, from, to)
ROLLWRIGHT_JSON(BarView, order, rider, operation, name, area, stand, from, to, start, end,
                unattended_minutes, frozen, pinned, pinned_by, late, cannot, lends, others)
ROLLWRIGHT_JSON(PersonPlan, id, name, skills, windows, bars)
ROLLWRIGHT_JSON(ArrivalView, day, what, orders, confirmed)
ROLLWRIGHT_JSON(OtherPromiseView, order, rider, promised, chance_before, chance_after)
ROLLWRIGHT_JSON(WayView, kind, what, note, price_cents, price_is_most, day_50, day_90, days_50,
                days_90, mean_days, share_sooner, chance_kept, others, slot, part)
ROLLWRIGHT_JSON(TogetherView, place, way)
ROLLWRIGHT_JSON(SoonerView, order, sentence, promised, chance_kept, day_50, day_90, ways, no_help,
                together, draws, runs, seconds)
ROLLWRIGHT_JSON(KeptBandView, words, promises, kept, said, least, most)
ROLLWRIGHT_JSON(KeptMonthView, month, promises, kept, days_late)
ROLLWRIGHT_JSON(KeptLineView, order, said, promised, in_100, ready, days_late, kept)
ROLLWRIGHT_JSON(OtherWayView, words, kept, days_longer)
ROLLWRIGHT_JSON(DeliveryBandView, in_100, came, share)
ROLLWRIGHT_JSON(KeptView, sentence, all, bands, months, other_ways, lines, open, deliveries,
                delivery_bands)
ROLLWRIGHT_JSON(PlannedOrder, order, rider, promised, ready, late, bound_by)
ROLLWRIGHT_JSON(SkillLoadView, skill, name, people, planned, there)
ROLLWRIGHT_JSON(PersonLoadView, id, name, planned, there)
ROLLWRIGHT_JSON(FullestView, skills, people, work, hours, in_100)
ROLLWRIGHT_JSON(WeekLoadView, first, last, skills, people, planned, promised, due)
ROLLWRIGHT_JSON(LoadView, sentence, weeks)
ROLLWRIGHT_JSON(MinutesLine, operation, name, area, stated_low, stated_high, low, median, high, times, astray)
ROLLWRIGHT_JSON(MinutesView, sentence, lines)
ROLLWRIGHT_JSON(BenchPoint, value, text, outcome, who, at, tool)
ROLLWRIGHT_JSON(BenchReading, value, points)
ROLLWRIGHT_JSON(BenchOperation, operation, name, area, skill, skill_words, minutes_low, minutes_high,
                minutes_taken, second_person, hands, steps, tools, consumables, cautions, fits, standing,
                because, waits_for, doers, helpers, no_helper, running, running_since, fault, care,
                readings)
ROLLWRIGHT_JSON(BenchCheck, id, list, text, limit, mark, covers, outcome, who, at, note, because)
ROLLWRIGHT_JSON(KitPart, slot, position, part, name, has_serial, may_follow, bound, serial, lot,
                came_by, since, who, here, seen)
ROLLWRIGHT_JSON(BuildAsFar, missing, possible, not_possible, sentence)
ROLLWRIGHT_JSON(BenchVisit, about, km, since, who, note, missing)
ROLLWRIGHT_JSON(BenchView, order, rider, build, frame, state, promised, last, done, blocked, stops,
                operations, checks, kit, as_far, paired, open_questions,
                care, visit)
ROLLWRIGHT_JSON(WrittenLine, number, deed, about, reading, point, outcome, sentence)
ROLLWRIGHT_JSON(WrittenView, order, last, already, lines)
ROLLWRIGHT_JSON(BenchNow, operation, name, area, skill, standing, who, since, because)
ROLLWRIGHT_JSON(BenchBike, order, rider, build, frame, state, promised, done, operations, blocked, visit,
                stops, now)
ROLLWRIGHT_JSON(ToolView, id, name, measures, good_until, good, sentence)
ROLLWRIGHT_JSON(BenchPerson, id, name, skills)
ROLLWRIGHT_JSON(BenchListView, bikes, tools, people)
ROLLWRIGHT_JSON(HistoryLine, number, at, who, deed, sentence, about, outcome, part, serial, lot)
ROLLWRIGHT_JSON(HistoryEntry, entry, at, who, what, why, subject)
ROLLWRIGHT_JSON(HistoryView, order, rider, build, state, lines, journal, last_hash)
ROLLWRIGHT_JSON(TracedBike, order, rider, contact, state, slot, part, name, serial, lot, certainty,
                since, off)
ROLLWRIGHT_JSON(TracedStock, part, name, line, serial, lot, pieces, place)
ROLLWRIGHT_JSON(TraceView, sentence, bikes, stock)
ROLLWRIGHT_JSON(RecallStepView, status, day, who, channel, note)
ROLLWRIGHT_JSON(RecalledBike, order, rider, contact, state, place, part, name, serial, lot,
                certainty, bound, stop_sale, status, steps)
ROLLWRIGHT_JSON(RecalledStock, part, name, pieces, certainty, sentence)
ROLLWRIGHT_JSON(RecallLine, number, notice, part, wrong, danger, remedy, opened, opened_by, closed,
                riders, told, fixed, held, progress)
ROLLWRIGHT_JSON(RecallsView, sentence, recalls)
ROLLWRIGHT_JSON(RecallView, line, part, ranges, closed_by, closing_note, bikes, orders, stock,
                statuses)
ROLLWRIGHT_JSON(LabelSheetView, id, name, page_width_mm, page_height_mm, columns, rows,
                label_width_mm, label_height_mm, left_mm, top_mm, gap_across_mm, gap_down_mm)
ROLLWRIGHT_JSON(LabelView, kind, what, number, code, lines, page, position, module_mm, figures_mm,
                is_whole)
ROLLWRIGHT_JSON(LabelsView, sentence, sheet, from, pages, labels, sheets)
ROLLWRIGHT_JSON(AreaPlan, id, stands)
ROLLWRIGHT_JSON(OutOfDate, sentence, orders, operations)
ROLLWRIGHT_JSON(PlanSettingsView, frozen_days, day_late, moved, kit_day, last_day, uneven_hour)
ROLLWRIGHT_JSON(PlanView, sentence, number, agreed, agreed_by, standing, out_of_date, first_day,
                days, now, frozen_until, people, areas, arrivals, orders, settings)
ROLLWRIGHT_JSON(ChangeOfWork, order, rider, operation, name, from_person, from, to_person, to,
                because)
ROLLWRIGHT_JSON(ChangeOfHands, order, rider, operation, name, person, start, from, to)
ROLLWRIGHT_JSON(ChangeOfDay, order, rider, promised, ready_before, ready_after, kept_before,
                kept_after, was_at_risk, at_risk, held_by)
ROLLWRIGHT_JSON(Figures, days_late, moved, kit_days, last_days, uneven_hours, cost)
ROLLWRIGHT_JSON(ProposalView, id, over, sentence, improving, changes, hands, same_day, orders,
                reasons, before, after, seconds, placements, plan)
ROLLWRIGHT_JSON(ImproveProgress, proposal, seconds, of_seconds, cost, first_cost, days_late, moved,
                over)
ROLLWRIGHT_JSON(PlacedLineView, id, part, name, quantity, order, article, unit_cost_cents)
ROLLWRIGHT_JSON(PlacedView, sentence, supplier, supplier_name, placed, lines, goods_cents)
ROLLWRIGHT_JSON(BuyLine, part, name, article, quantity, needed, orders, order_by, buy_on, needed_by,
                too_late, in_time, unit_cost_cents, total_cents, lead_days_50, lead_days_90, why, basis)
ROLLWRIGHT_JSON(BuyGroup, supplier, name, day, cut_off, dispatch, minutes_left, clock, lines, goods_cents, freight_cents,
                surcharge_cents, note)
ROLLWRIGHT_JSON(KitView, order, day, to_buy, under_way, complete, weakest, weakest_name,
                weakest_there)
ROLLWRIGHT_JSON(BuyView, sentence, groups, kits, loans, no_offer, cost_cents, when_needed_cents,
                proven)
ROLLWRIGHT_JSON(StockLineView, part, name, supplier_name, free, under_way, taken, at, up_to, to_buy,
                at_hand, why, per_week, used, run_out, next_by, next, next_line)
ROLLWRIGHT_JSON(SmallStockView, sentence, lines, how)
ROLLWRIGHT_JSON(LegView, leg, done)
ROLLWRIGHT_JSON(FreightModeView, mode, carrier, usual, cost_cents, extra_cents, day_50, day_90,
                basis)
ROLLWRIGHT_JSON(PhotoView, picture, at, who, about, note)
ROLLWRIGHT_JSON(PhotosView, photos)
ROLLWRIGHT_JSON(ClaimView, number, trouble, pieces, carrier, found, tell_by, days_left, clock,
                pressing, terms, told, settled, outcome, note, photos)
ROLLWRIGHT_JSON(MarkedView, serial, lot, pieces, place, day)
ROLLWRIGHT_JSON(DeliveryView, day, pieces, condition)
ROLLWRIGHT_JSON(ArrivalLine, id, part, name, supplier, supplier_name, order, orders, placed,
                confirmed, state, word, ordered, to_come, to_look_at, accepted, quarantined,
                sent_back, written_off, day_50, day_90, receipts, basis, needed_by, in_time,
                days_overdue, asks_serial, mode, where, legs, modes, marked, claims,
                deliveries, photos)
ROLLWRIGHT_JSON(ArrivalGroup, kind, day, lines)
ROLLWRIGHT_JSON(ArrivalsView, today, sentence, groups, quarantine, claims, lately, steps, troubles,
                carriers)
ROLLWRIGHT_JSON(TodayLine, kind, sentence, order, link, action)
ROLLWRIGHT_JSON(TodayView, day, lines)
ROLLWRIGHT_JSON(PartRow, part, kind_name, on_shelf, put_by, under_way, known, measured, not_known,
                gone)
ROLLWRIGHT_JSON(FactView, attribute, name, value, us, standing, source, by, date, help, unit, type,
                words, decisive)
ROLLWRIGHT_JSON(OfferView, supplier, article, prices, availability, lead_days_50, lead_days_90,
                basis)
ROLLWRIGHT_JSON(PurchaseView, id, supplier, part, name, quantity, order, placed, confirmed, state)
ROLLWRIGHT_JSON(PartView, row, facts, offers, purchases, orders)
ROLLWRIGHT_JSON(PartsView, parts, purchases)
ROLLWRIGHT_JSON(AskingRule, rule, severity, asks)
ROLLWRIGHT_JSON(NotKnownFact, part, of, attribute, name, help, unit, type, words, severity, orders,
                offers, findings, rules, who)
ROLLWRIGHT_JSON(NotKnownView, sentence, facts)
ROLLWRIGHT_JSON(FoundLine, kind, text, link)
ROLLWRIGHT_JSON(NamedView, id, name)
ROLLWRIGHT_JSON(SlotOfBuild, slot, name, required)
ROLLWRIGHT_JSON(BuildView, id, name, maker_built, slots)
ROLLWRIGHT_JSON(ShopView, name, town, currency, invented, today, builds, kinds, people, routes,
                states)
ROLLWRIGHT_JSON(SayView, key, ask, as, needed, photos_of)
ROLLWRIGHT_JSON(PersonMay, id, name)
ROLLWRIGHT_JSON(NextMoveView, to, is_back, moved_by, people, missing, to_meet, to_say,
                sentence)
ROLLWRIGHT_JSON(FlagView, flag, reason, until, is_due, who, day)
ROLLWRIGHT_JSON(VersionView, version, signed_by, who, day, price_cents, changes_cents, differences)
ROLLWRIGHT_JSON(SaidView, ask, said)
ROLLWRIGHT_JSON(MovedView, number, from, to, by, day, said, note)
ROLLWRIGHT_JSON(FreezeView, slot, slot_name, part, name, point, word, why)
ROLLWRIGHT_JSON(LifeView, order, state, sentence, signed_version, changed_since_signed, next, flags,
                all_flags, freeze, price_to_sign_cents, versions, moves, done, revision)
ROLLWRIGHT_JSON(MoneyLineView, what, cents, why)
ROLLWRIGHT_JSON(ChangePriceView, order, sentence, point, word, lines, parts_cents, beside_cents,
                total_cents, findings, signed_price_cents, revision)
ROLLWRIGHT_JSON(MakerLineView, position, position_name, part, name, article, quantity, options,
                serial, stop_rules, has_number)
ROLLWRIGHT_JSON(MakerFormView, number, version, maker, wanted, sent, how, who, lines)
ROLLWRIGHT_JSON(MakerListView, kind, number, reference, file, day, who, counts, lines)
ROLLWRIGHT_JSON(MakerTableRow, position, position_name, ordered, confirmed, confirmed_is, built,
                built_is)
ROLLWRIGHT_JSON(DifferenceView, key, position, position_name, what, sentence, standing, ordered,
                listed, details, stops, warns, mass_change_kg, list_price_change_cents,
                is_new_version, answered)
ROLLWRIGHT_JSON(DifferenceAnswerView, number, position_name, ordered, listed, answer, why,
                signed_by, price_change_cents, who, day, list)
ROLLWRIGHT_JSON(MakerView, order, state, sentence, signed_version, form_missing, form,
                form_is_current, papers, lists, rows, differences, answers, revision)
ROLLWRIGHT_JSON(CareOperation, operation, name, standing, care)
ROLLWRIGHT_JSON(CareVisitView, about, km, since, who, note, asked, back, back_by, to_be_ridden,
                back_note)
ROLLWRIGHT_JSON(CareOffer, about, when, due, work, operations)
ROLLWRIGHT_JSON(CareDueLine, order, rider, contact, visits, from, to, because, sentence, reminded,
                said, to_be_told)
ROLLWRIGHT_JSON(CareHereLine, order, rider, about, since)
ROLLWRIGHT_JSON(ComingBackView, day, sentence, here, due)
ROLLWRIGHT_JSON(CareView, order, rider, contact, state, frame, sentence, may_open, due, open, missing,
                visits, offers, operations)
ROLLWRIGHT_JSON(OpenLineView, line, part, supplier, state)
ROLLWRIGHT_JSON(SettlementView, order, law, sentence, lines, back_cents, open_lines)
ROLLWRIGHT_JSON(ImportReport, counts, problems, imported)
ROLLWRIGHT_JSON(PersonSignIn, id, name, roles, has_password, has_pin)
ROLLWRIGHT_JSON(StationPerson, id, name, code)
ROLLWRIGHT_JSON(StationView, number, name, paired_by)
ROLLWRIGHT_JSON(PeopleView, open, people, stations)
ROLLWRIGHT_JSON(MeView, open, person, name, roles, at, station)
ROLLWRIGHT_JSON(JournalReport, entries, whole, sentence, last_hash)

}  // namespace rollwright::shop

namespace rollwright::json {
namespace {

template <class T>
std::string dumped(const T& value) {
  const nlohmann::ordered_json json = value;
  // Text that is no UTF-8 cannot get in by way of import or HTTP; should it, it is marked.
  return json.dump(-1, ' ', false, nlohmann::ordered_json::error_handler_t::replace);
}

}  // namespace

std::string text_of(const shop::ShopView& view) { return dumped(view); }
std::string text_of(const shop::TodayView& view) { return dumped(view); }
std::string text_of(const std::vector<shop::OrderLine>& view) { return dumped(view); }
std::string text_of(const shop::OrderView& view) { return dumped(view); }
std::string text_of(const shop::SlotChoicesView& view) { return dumped(view); }
std::string text_of(const shop::ClashView& view) { return dumped(view); }
std::string text_of(const shop::CompletionView& view) { return dumped(view); }
std::string text_of(const std::vector<shop::CompletionView>& view) { return dumped(view); }
std::string text_of(const std::vector<shop::RepairView>& view) { return dumped(view); }
std::string text_of(const std::vector<shop::OrderQuestions>& view) { return dumped(view); }
std::string text_of(const shop::LifeView& view) { return dumped(view); }
std::string text_of(const shop::ChangePriceView& view) { return dumped(view); }
std::string text_of(const shop::SettlementView& view) { return dumped(view); }
std::string text_of(const shop::NotKnownView& view) { return dumped(view); }
std::string text_of(const shop::PromiseView& view) { return dumped(view); }
std::string text_of(const shop::SoonerView& view) { return dumped(view); }
std::string text_of(const shop::KeptView& view) { return dumped(view); }
std::string text_of(const shop::PlanView& view) { return dumped(view); }
std::string text_of(const shop::LoadView& view) { return dumped(view); }
std::string text_of(const shop::MinutesView& view) { return dumped(view); }
std::string text_of(const shop::BenchListView& view) { return dumped(view); }
std::string text_of(const shop::BenchView& view) { return dumped(view); }
std::string text_of(const shop::WrittenView& view) { return dumped(view); }
std::string text_of(const shop::HistoryView& view) { return dumped(view); }
std::string text_of(const shop::PhotosView& view) { return dumped(view); }
std::string text_of(const shop::TraceView& view) { return dumped(view); }
std::string text_of(const shop::RecallsView& view) { return dumped(view); }
std::string text_of(const shop::RecallView& view) { return dumped(view); }
std::string text_of(const shop::MakerView& view) { return dumped(view); }
std::string text_of(const shop::CareView& view) { return dumped(view); }
std::string text_of(const shop::ComingBackView& view) { return dumped(view); }
std::string text_of(const shop::LabelsView& view) { return dumped(view); }
std::string text_of(const shop::ProposalView& view) { return dumped(view); }
std::string text_of(const shop::ImproveProgress& view) { return dumped(view); }
std::string text_of(const shop::BuyView& view) { return dumped(view); }
std::string text_of(const shop::PlacedView& view) { return dumped(view); }
std::string text_of(const shop::ArrivalsView& view) { return dumped(view); }
std::string text_of(const shop::ArrivalLine& view) { return dumped(view); }
std::string text_of(const shop::SmallStockView& view) { return dumped(view); }
std::string text_of(const shop::PartsView& view) { return dumped(view); }
std::string text_of(const shop::PartView& view) { return dumped(view); }
std::string text_of(const std::vector<shop::FoundLine>& view) { return dumped(view); }
std::string text_of(const std::vector<shop::StationPerson>& view) { return dumped(view); }
std::string text_of(const shop::PersonSignIn& view) { return dumped(view); }
std::string text_of(const shop::PeopleView& view) { return dumped(view); }
std::string text_of(const shop::MeView& view) { return dumped(view); }
std::string text_of(const shop::ImportReport& view) { return dumped(view); }
std::string text_of(const shop::JournalReport& view) { return dumped(view); }
std::string text_of(const shop::MappingView& view) { return dumped(view); }
std::string text_of(const shop::PreviewView& view) { return dumped(view); }
std::string text_of(const shop::TakeInView& view) { return dumped(view); }
std::string text_of(const shop::UndoView& view) { return dumped(view); }
std::string text_of(const shop::CatalogueView& view) { return dumped(view); }
std::string text_of(const trade::Sheet& view) { return dumped(view); }
std::string text_of(const std::vector<aids::Aid>& view) { return dumped(view); }
std::string text_of(const aids::Reckoned& view) { return dumped(view); }
std::string text_of(const aids::FilledAid& view) { return dumped(view); }
std::string text_of(const aids::Does& view) { return dumped(view); }

std::string text_of(const Error& error) { return dumped(error); }

}  // namespace rollwright::json
