#pragma once

#include <functional>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <vector>

#include "base/clock.hpp"
#include "book/book.hpp"
#include "shop/aid_views.hpp"
#include "shop/basket_memory.hpp"
#include "shop/buy_views.hpp"
#include "shop/catalogue_views.hpp"
#include "shop/fact_views.hpp"
#include "shop/fit_views.hpp"
#include "shop/goods_views.hpp"
#include "shop/house_views.hpp"
#include "shop/kept_views.hpp"
#include "shop/label_views.hpp"
#include "shop/load_views.hpp"
#include "shop/minutes_views.hpp"
#include "shop/order_views.hpp"
#include "shop/part_views.hpp"
#include "shop/plan_views.hpp"
#include "shop/promise_memory.hpp"
#include "shop/promise_views.hpp"
#include "shop/purchase_views.hpp"
#include "shop/reckoned.hpp"
#include "shop/sooner_views.hpp"
#include "shop/state.hpp"
#include "trade/change_terms.hpp"
#include "trade/maker_papers.hpp"
#include "trade/service_plan.hpp"
#include "trade/sheet.hpp"
#include "trade/trade.hpp"

namespace rollwright::shop {

struct BookedIn;
struct GoodsInAt;
class BenchDesk;
class PeopleDesk;
class PhotoDesk;
class PlanDesk;
class RecallDesk;

struct ShopPaths {
  std::string trade_folder;  // data/trade
  std::string book;          // the book's file
};

/// The use cases. Every edge (command line, HTTP) calls exactly one of these and prints what it
/// answers.
///
/// Invariants: only use cases write to the book; each write is one change with one reason.
/// Threads: any number; each call looks at one state of the book.
class Shop {
 public:
  /// Reads the trade, opens (or, with `create`, makes) the book. Errors: the trade's problems, all
  /// in one sentence each; those of Book::open.
  [[nodiscard]] static Result<std::unique_ptr<Shop>> open(const ShopPaths& paths,
                                                          const Clock& clock, bool create = false);

  /// Reads a shop's files and writes them, all or nothing. With `dry_run` only judges them.
  [[nodiscard]] Result<ImportReport> import(const std::string& path, const std::string& who,
                                            bool dry_run = false);

  // Orders ---------------------------------------------------------------------------------------
  [[nodiscard]] Result<std::vector<OrderLine>> orders();
  [[nodiscard]] Result<OrderView> order(const std::string& id);
  [[nodiscard]] Result<OrderView> new_order(const NewOrder& wanted, const std::string& who);
  /// Chooses a part for a slot, or empties it. `revision` is that of the order the person looked
  /// at. Errors: kConflict when the order has changed since; kRefused once it is being built.
  [[nodiscard]] Result<OrderView> choose(const std::string& id, const std::string& slot,
                                         const std::optional<std::string>& part,
                                         std::int64_t revision, const std::string& who);
  /// Several of these as one change, all or none: what completes or mends an order.
  [[nodiscard]] Result<OrderView> choose_all(
      const std::string& id, const std::map<std::string, std::optional<std::string>>& choices,
      std::int64_t revision, const std::string& who);
  /// Draft or Offer to Agreed, with the day promised and the deposit paid. The odds of the day are
  /// written down with it; none where the promise can say no day. Errors: kRefused naming
  /// everything that is missing: empty slots, parts that do not fit, facts without an answer.
  [[nodiscard]] Result<OrderView> agree(const std::string& id, Day promised,
                                        std::int64_t deposit_cents, std::int64_t revision,
                                        const std::string& who);

  /// The questions of an order, answered ones too; for all open orders, when no order is named, those
  /// that wait for an answer. Errors: kNotFound.
  [[nodiscard]] Result<std::vector<OrderQuestions>> questions(const std::string& id);
  /// Says yes, no or not yet to a question of an order. Errors: kNotFound; kBadInput for another
  /// word; kRefused when it is not asked of this bike, or the order is over; kConflict.
  [[nodiscard]] Result<OrderView> answer_question(const std::string& id, const AnswerGiven& given,
                                                  const std::string& who);
  /// What the customer means to spend. Errors: kNotFound; those of `budget_from` (shop/enquiry.hpp);
  /// kRefused from Agreed on; kConflict.
  [[nodiscard]] Result<OrderView> set_budget(const std::string& id, const BudgetGiven& given,
                                             const std::string& who);
  /// Sets the day on which somebody comes back to the customer, or says that it is done; what came of
  /// it goes into the journal. Errors: kNotFound; those of `follow_up_from`; kRefused from Agreed on,
  /// and when nothing is there to be done; kConflict.
  [[nodiscard]] Result<OrderView> follow_up(const std::string& id, const FollowUpGiven& given,
                                            const std::string& who);

  // Spec -----------------------------------------------------------------------------------------
  [[nodiscard]] Result<SlotChoicesView> choices(const std::string& id, const std::string& slot);
  [[nodiscard]] Result<ClashView> why_not(const std::string& id, const std::string& slot,
                                          const std::string& part);
  /// The best whole bike that keeps what is chosen. Errors: those of spec::complete.
  [[nodiscard]] Result<CompletionView> complete(const std::string& id,
                                                const CompletionWish& wish);
  /// Whole bikes of which none is cheaper, lighter and sooner than another, by price.
  [[nodiscard]] Result<std::vector<CompletionView>> trade_offs(const std::string& id);
  /// The fewest changes after which a whole bike exists again; none when nothing is broken. Advice in
  /// every state up to Ready (taking it over is `choose_all`); a discontinued part that the order
  /// does not have in hand has to be changed.
  [[nodiscard]] Result<std::vector<RepairView>> repairs(const std::string& id);

  // Promise, plan, supply ------------------------------------------------------------------------
  [[nodiscard]] Result<PromiseView> promise(const std::string& id, int draws, int threads = 2);
  /// What would make the order sooner, each way with its price, the days it wins and what it does to
  /// the other promises: one simulation for each, with the same luck. Errors: as for `promise`.
  [[nodiscard]] Result<SoonerView> sooner(const std::string& id, int draws);
  /// What was promised and how it went: by the chance that was said, by month, and beside what other
  /// ways of promising would have kept; and the same of suppliers' deliveries, replayed.
  [[nodiscard]] Result<KeptView> kept();
  /// Moving in it, planning anew and agreeing is done at the plan's own desk.
  [[nodiscard]] Result<PlanView> plan();
  /// How full the next `weeks` weeks are, by skill and person: as planned, and by what is promised.
  /// Errors: those of plan::load_by_week.
  [[nodiscard]] Result<LoadView> load(int weeks);
  [[nodiscard]] PlanDesk& plan_desk() { return *plan_desk_; }
  /// Who signs in, and with what.
  [[nodiscard]] PeopleDesk& people_desk() { return *people_desk_; }
  /// How long operations take: as the trade states it, and as the times taken here say.
  [[nodiscard]] Result<MinutesView> minutes();
  [[nodiscard]] Result<BuyView> buy();

  /// Writes down what was ordered from a supplier; one change. Errors: those of `placed` in
  /// shop/purchase.hpp, and kConflict when somebody was faster.
  [[nodiscard]] Result<PlacedView> place(const PurchaseGiven& given, const std::string& who);
  /// A line that was ordered is not wanted any more. Errors: those of `given_up`.
  [[nodiscard]] Result<ArrivalLine> give_up(const std::string& line, const std::string& note,
                                            const std::string& who);

  // Goods-in -------------------------------------------------------------------------------------
  /// What is expected by day, overdue, at goods-in, in quarantine and claimed (goods_lines.hpp).
  [[nodiscard]] Result<ArrivalsView> arrivals();
  /// One purchase line as it comes in. Errors: kNotFound.
  [[nodiscard]] Result<ArrivalLine> arrival(const std::string& line);
  /// A delivery of a line; each of these is one change, and its errors are those of the function of
  /// shop/goods_in.hpp that works it out, and kConflict when somebody was faster.
  [[nodiscard]] Result<ArrivalLine> receive(const std::string& line, const Received& given,
                                            const std::string& who);
  /// A delivery was counted wrong, or booked in on the wrong line; its errors are those of
  /// `miscounted` in shop/miscounts.hpp.
  [[nodiscard]] Result<ArrivalLine> miscounted(const std::string& line, const MiscountGiven& given,
                                               const std::string& who);
  /// What happens to pieces that came: accept, quarantine, release, send back, find bad ...
  [[nodiscard]] Result<ArrivalLine> goods_step(const std::string& line,
                                               const GoodsStepGiven& given,
                                               const std::string& who);
  /// Somebody was told of a claim, or it is settled.
  [[nodiscard]] Result<ArrivalLine> claim_step(const std::string& line, const ClaimStep& given,
                                               const std::string& who);
  /// A leg of the line's road is done: it left the supplier, the ship is in, customs let it go.
  [[nodiscard]] Result<ArrivalLine> leg_done(const std::string& line, const LegGiven& given,
                                             const std::string& who);
  [[nodiscard]] Result<ArrivalLine> freight_mode(const std::string& line, const std::string& mode,
                                                 const std::string& who);
  /// The supplier names a day, or another one.
  [[nodiscard]] Result<ArrivalLine> confirm_line(const std::string& line, Day day,
                                                 const std::string& who);

  // Small stock ----------------------------------------------------------------------------------
  /// Parts that are used up apart from orders, with the levels at which they are bought again.
  [[nodiscard]] Result<SmallStockView> small_stock();
  /// Takes pieces off the free shelf for a repair or the bench. Errors: kNotFound; kRefused when not
  /// so many are free; kOutOfRange.
  [[nodiscard]] Result<PartView> use_up(const std::string& part, const UseGiven& given,
                                        const std::string& who);

  // Build ----------------------------------------------------------------------------------------
  [[nodiscard]] Result<trade::Sheet> sheet(const std::string& id);
  /// The sheet as a PDF, with what the bike does as bench aids say it (http/order_does.hpp).
  [[nodiscard]] Result<std::string> sheet_pdf(const std::string& id,
                                              std::vector<trade::SheetFigure> does);

  /// Which labels these are, where each lies, and the sheets there are. Errors: kBadInput for another
  /// kind, or orders' labels without an order; kNotFound; kConflict for two ids with one code; those
  /// of documents::labels_pdf.
  [[nodiscard]] Result<LabelsView> labels(const LabelWish& wish);
  /// To print at full size. Errors: as labels, and kBadInput when there is no label.
  [[nodiscard]] Result<std::string> labels_pdf(const LabelWish& wish);
  /// One page as a picture, an empty sheet without labels. Errors: as labels; kNotFound for the page.
  [[nodiscard]] Result<std::string> labels_svg(const LabelWish& wish, int page);

  /// What the order puts into the fields of a bench aid; `end` as build::aid_fields. Errors:
  /// kNotFound for the order; those of build::aid_fields.
  [[nodiscard]] Result<AidFieldsView> aid_fields(const std::string& id, const std::string& aid,
                                                 const std::string& end);

  /// At the stand: what can be done, and what was done.
  [[nodiscard]] BenchDesk& bench() { return *bench_; }
  /// Photographs of bikes and deliveries.
  [[nodiscard]] PhotoDesk& photos() { return *photos_; }
  /// Parts that are called back, the bikes they are on and who was told.
  [[nodiscard]] RecallDesk& recalls() { return *recalls_; }

  // Looking --------------------------------------------------------------------------------------
  [[nodiscard]] Result<ShopView> about();
  [[nodiscard]] Result<TodayView> today();
  [[nodiscard]] Result<PartsView> parts();
  [[nodiscard]] Result<PartView> part(const std::string& id);
  /// Facts of chosen parts, open orders and their riders that rules ask for and nobody knows: first
  /// those that hold most orders, then those that leave most findings open, then by severity.
  [[nodiscard]] Result<NotKnownView> not_known_facts();
  /// Puts a fact into the catalogue, measured here or read in a document; what was held before stays
  /// in the journal. Errors: kNotFound for the part or the person; those of trade::attribute_of and
  /// trade::parse_value; kBadInput when it does not say from whom or what; kOutOfRange for a day to
  /// come; kConflict.
  [[nodiscard]] Result<PartView> measure_fact(const std::string& part,
                                              const std::string& attribute,
                                              const FactGiven& given, const std::string& who);
  [[nodiscard]] Result<std::vector<FoundLine>> find(const std::string& words);
  /// `printed`: as Book::verify.
  [[nodiscard]] Result<JournalReport> verify(const std::string& printed = {});

  // Suppliers' lists --------------------------------------------------------------------------------
  /// What the columns of a list seem to say, each with why; as saved where the supplier's lists were
  /// read before.
  [[nodiscard]] Result<MappingView> propose_mapping(const GivenList& given);
  /// What taking a list in would do, row by row. Writes nothing.
  [[nodiscard]] Result<PreviewView> preview_catalogue(const GivenList& given);
  /// Takes a list in: all rows, or with `skip_bad_rows` the good ones, as one change, with the
  /// mapping. Not taken, with a sentence, when rows are refused or the mapping cannot be. Errors:
  /// kConflict when it would do something else than `as_seen`.
  [[nodiscard]] Result<TakeInView> import_catalogue(const GivenList& given, const HowToTakeIn& how,
                                                    const std::string& who);
  /// Takes back the list of this number, or the newest (0). What others changed since stays and is
  /// named; a new part that something names by now is discontinued instead of removed. Errors:
  /// kRefused when there is nothing to take back, kNotFound.
  [[nodiscard]] Result<UndoView> undo_import(int number, const std::string& who);
  /// The lists that were taken in, and what a person may choose when mapping columns.
  [[nodiscard]] Result<CatalogueView> imports();

  /// Called after each write with the order that changed (empty when it was something else) and
  /// what was done. From the thread that wrote.
  using Listener = std::function<void(const std::string& order, const std::string& what)>;
  void on_change(Listener listener);

  [[nodiscard]] const trade::Trade& trade() const { return trade_; }
  ~Shop();

 private:
  friend class BenchDesk;
  friend class CareDesk;
  friend class PlanDesk;
  friend class LifeDesk;
  friend class MakerDesk;
  friend class PeopleDesk;
  friend class PhotoDesk;
  friend class RecallDesk;
  /// What the trade folder says beside the trade itself.
  struct Terms {
    trade::GoodsTerms goods;
    trade::ChangeTerms changes;
    std::vector<trade::ServiceVisit> services;
    std::vector<trade::MakerPaper> maker_papers;
  };
  Shop(trade::Trade trade, Terms terms, book::Book book, const Clock& clock);

  [[nodiscard]] Result<std::shared_ptr<const State>> state();
  [[nodiscard]] Result<LocalTime> now(const State& state) const;
  /// An order and what it is looked at with: one state, its build, the time.
  struct OrderAt {
    std::shared_ptr<const State> state;
    const trade::Order* order = nullptr;
    const trade::BuildTemplate* build = nullptr;
    LocalTime now;
  };
  [[nodiscard]] Result<OrderAt> order_at(const std::string& id);
  [[nodiscard]] Result<trade::Sheet> sheet_of(const OrderAt& at, bool care) const;
  /// The sheet over which the bike's record is played: of a bike in care with what care may ask for.
  [[nodiscard]] Result<trade::Sheet> stand_sheet_of(const OrderAt& at) const;
  /// What the engine says of the order as it is, kept until something changes.
  [[nodiscard]] Result<std::shared_ptr<const Reckoned>> reckoned(const OrderAt& at);
  /// Writes one order and answers with how it looks then.
  [[nodiscard]] Result<OrderView> write_order(const trade::Order& order, const std::string& who,
                                              const std::string& what, const std::string& why);
  /// Writes a change, marked with the time; `about` is the order that the listener is told, or empty.
  /// Parts and orders are carried over into the state in memory: the book is only read anew after
  /// anything else, and when somebody else wrote in the meantime. Errors: those of Book::write.
  [[nodiscard]] Result<void> write(book::Change change, const std::string& about);
  /// The same, with what the book says of it. Nobody is told of what was written before.
  [[nodiscard]] Result<book::Written> write_told(book::Change change, const std::string& about);
  /// What a step at goods-in makes of a line, written as one change.
  using GoodsChange = std::function<Result<BookedIn>(const GoodsInAt&, const trade::PurchaseLine&)>;
  [[nodiscard]] Result<ArrivalLine> book_in(const std::string& line, const std::string& what,
                                            const std::string& who, const GoodsChange& change);
  [[nodiscard]] Result<book::Written> write_and_carry_over(const book::Change& change);
  void carry_over(const book::Change& change, const book::Written& written);

  trade::Trade trade_;
  trade::GoodsTerms terms_;
  trade::ChangeTerms change_terms_;
  std::vector<trade::ServiceVisit> service_plan_;
  std::vector<trade::MakerPaper> maker_papers_;
  book::Book book_;
  const Clock& clock_;
  std::mutex writes_;  // taken before mutex_: what one writes is carried over before the next writes
  std::mutex mutex_;
  std::shared_ptr<const State> state_;
  std::map<std::string, std::shared_ptr<const Reckoned>> reckoned_;  // by order
  BasketMemory baskets_;
  PromiseMemory promises_;
  Listener listener_;
  std::unique_ptr<BenchDesk> bench_;
  std::unique_ptr<PhotoDesk> photos_;
  std::unique_ptr<RecallDesk> recalls_;
  std::unique_ptr<PeopleDesk> people_desk_;
  std::unique_ptr<PlanDesk> plan_desk_;  // last: what it has begun ends before the rest goes
};

}  // namespace rollwright::shop
