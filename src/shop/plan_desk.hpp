#pragma once

#include <cstdint>
#include <deque>
#include <functional>
#include <memory>
#include <mutex>
#include <string>
#include <thread>

#include "base/result.hpp"
#include "shop/absence.hpp"
#include "shop/plan_views.hpp"
#include "shop/proposal.hpp"

namespace rollwright::shop {

class Shop;

/// The use cases of the plan: look, plan anew, move by hand, agree. A proposal is worked out, looked
/// at and then agreed or left; until it is agreed nothing changes.
///
/// Speed: a proposal is searched for with a stated number of placements (kReplanPlacements,
/// kMovePlacements), so the same book gives the same proposal; docs/decisions/0014 has the times.
/// Invariants: the newest kMostKept proposals are kept, in memory only; at most one is being
///             improved at a time.
/// Threads: any number of callers; the search for better plans runs on a thread of its own.
class PlanDesk {
 public:
  static constexpr std::size_t kMostKept = 16;
  static constexpr double kMostImproveSeconds = 300;

  explicit PlanDesk(Shop& shop);
  ~PlanDesk();
  PlanDesk(const PlanDesk&) = delete;
  PlanDesk& operator=(const PlanDesk&) = delete;

  /// The agreed plan and what of it is out of date; without one how work would be planned now. Reading
  /// writes nothing, and says the same until something is written or a minute passes.
  [[nodiscard]] Result<PlanView> plan();

  /// Plans anew, or moves an operation by hand, or lets it go, over the plan number `over`.
  /// Errors: kConflict when another plan was agreed since; those of shop::propose.
  [[nodiscard]] Result<ProposalView> propose(const ProposalWish& wish, std::int64_t over);
  /// The same, searched for as long as the budget says.
  [[nodiscard]] Result<ProposalView> propose(const ProposalWish& wish, std::int64_t over,
                                             const SearchBudget& budget);
  /// Errors: kNotFound for a proposal that was left, or is too old.
  [[nodiscard]] Result<ProposalView> proposal(const std::string& id);

  /// Begins to look for a better plan beside everything else and answers at once; the listener is
  /// told how it goes. What is improved already is stopped first. Errors: kOutOfRange for seconds
  /// outside 1 to kMostImproveSeconds; those of proposal.
  [[nodiscard]] Result<ProposalView> improve(const std::string& id, double seconds);
  /// Ends that; the best found so far is kept. Nothing happens when it is over.
  [[nodiscard]] Result<ProposalView> stop(const std::string& id);

  /// Makes it the plan. Errors: kConflict when another was agreed since, or when something came in
  /// between so that it cannot be done any more; kRefused while it is being improved.
  [[nodiscard]] Result<PlanView> agree(const std::string& id, const std::string& who);
  /// Forgets it; the agreed plan stays as it is.
  [[nodiscard]] Result<PlanView> leave(const std::string& id);

  /// Errors: kOutOfRange naming the field.
  [[nodiscard]] Result<PlanView> set_settings(const PlanSettingsView& settings,
                                              const std::string& who);
  /// Tells the book that a person is not there, or is back. The plan stays as agreed and says what is
  /// out of date. Errors: kNotFound for the person; kContradiction for days that run backwards;
  /// kOutOfRange for more than a year; kRefused when there is nothing to take back.
  [[nodiscard]] Result<PlanView> tell_absence(const std::string& person, const DaysAway& days,
                                              const std::string& who);

  /// What the agreed plan has for one person, as text/calendar (plan_calendar.hpp).
  /// Errors: kNotFound for the person; kRefused while no plan is agreed.
  [[nodiscard]] Result<std::string> calendar(const std::string& person);

  /// Called while a proposal is being improved, from the thread that searches.
  using Listener = std::function<void(const ImproveProgress&)>;
  void on_progress(Listener listener);

 private:
  using Kept = std::shared_ptr<const Proposal>;
  [[nodiscard]] Result<Kept> kept(const std::string& id);
  [[nodiscard]] ProposalView view(const Kept& proposal);
  void keep(Kept proposal);
  void forget(const std::string& id);
  void end_improving();
  void search_on(const Kept& proposal, double seconds, const std::stop_token& stop);
  void tell(const ImproveProgress& progress);

  /// The plan as it was shown last: it stays so until something is written or a minute passes.
  struct Seen {
    std::int64_t entry = 0;
    LocalTime now;
    PlanView plan;
  };

  Shop& shop_;
  std::mutex mutex_;
  std::optional<Seen> seen_;
  std::deque<Kept> proposals_;  // oldest first
  std::string improving_;       // id; empty: none
  std::int64_t made_ = 0;
  Listener listener_;
  std::mutex improver_mutex_;   // who starts or ends the improver
  std::jthread improver_;       // last: it uses all of the above
};

}  // namespace rollwright::shop
