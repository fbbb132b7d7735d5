#include "book/schema.hpp"

#include <iterator>

#include <fmt/format.h>

namespace rollwright::book {
namespace {


constexpr const char* kTables = R"sql(
create table book (version bigint not null);

create table journal (
  seq bigint primary key,
  at text not null, who text not null, what text not null, why text not null,
  subject text not null, before text not null, after text not null,
  previous text not null, hash text not null
);
create index journal_subject on journal (subject, seq);

create table shop (
  id text primary key, name text not null, town text not null, currency text not null,
  time_zone text not null, invented bigint not null, hourly_rate_cents bigint not null,
  walk_in_share double precision not null, absence_chance double precision not null,
  closed text not null
);
create table area (id text primary key, stands bigint not null);
create table person (
  id text primary key, name text not null, roles text not null, skills text not null,
  week text not null, productive double precision not null, away text not null
);

create table part (
  id text primary key, kind text not null, name text not null, maker text not null,
  price_cents bigint not null, gone bigint not null, may_follow bigint not null
);
create table part_fact (
  part text not null references part (id), attribute text not null, standing text not null,
  type text not null, number double precision, words text not null,
  source text not null, by_whom text not null, day text,
  primary key (part, attribute)
);

create table supplier (
  id text primary key, name text not null, minimum_order_cents bigint not null,
  small_order_charge_cents bigint not null, free_freight_over_cents bigint not null,
  freight_cents bigint not null, cut_off_minute bigint not null, ship_days bigint not null
);
create table offer (
  supplier text not null references supplier (id), part text not null references part (id),
  article text not null, pack bigint not null, availability text not null, as_of text not null,
  primary key (supplier, part)
);
create table offer_break (
  supplier text not null, part text not null, from_quantity bigint not null,
  unit_cost_cents bigint not null, primary key (supplier, part, from_quantity)
);
create table stock (part text primary key references part (id), on_shelf bigint not null);
create table put_by (
  part text not null references part (id), order_id text not null, quantity bigint not null,
  primary key (part, order_id)
);
create table purchase (
  id text primary key, supplier text not null references supplier (id),
  part text not null references part (id), quantity bigint not null, order_id text,
  placed text not null, confirmed text, state text not null
);
create table receipt (
  supplier text not null references supplier (id), part text not null references part (id),
  quantity bigint not null, ordered text not null, promised text, received text not null,
  condition text not null,
  primary key (supplier, part, ordered, received, quantity)
);

create table customer_order (
  id text primary key, revision bigint not null, state text not null, build text not null,
  rider_name text not null, rider_contact text not null, rider_height_mm double precision,
  rider_inseam_mm double precision, rider_mass_kg double precision,
  need text not null, use_class bigint not null, luggage_kg double precision not null,
  child_seat bigint not null, region text not null, assist_class text not null,
  front_brake_lever text not null, route text not null, by_freight bigint not null,
  held_because text not null, needed_by text, promised text, opened text not null,
  deposit_cents bigint not null, spec_version bigint not null
);
create index customer_order_state on customer_order (state);
create table order_choice (
  order_id text not null references customer_order (id), slot text not null, part text not null,
  primary key (order_id, slot)
);
create index order_choice_part on order_choice (part);
create table order_flag (
  order_id text not null references customer_order (id), flag text not null,
  primary key (order_id, flag)
);
create table order_done (
  order_id text not null references customer_order (id), operation text not null,
  primary key (order_id, operation)
);
create table route (id text primary key, gpx text not null);
)sql";

/// What a newer version of the book has beside kTables. Steps are never changed, only added: a book
/// of any version gets those it does not have yet.
struct Step {
  std::int64_t version;
  const char* sql;
};
constexpr Step kSteps[] = {
    {2, R"sql(
create table order_answer (
  order_id text not null references customer_order (id), question text not null,
  answer text not null, who text not null, day text not null, note text not null,
  about text not null, primary key (order_id, question)
);
)sql"},
    {3, R"sql(
create table if not exists column_mapping (supplier text primary key, mapping text not null);
create table if not exists taken_list (
  number bigint primary key, supplier text not null, file text not null, day text not null,
  taken text not null, who text not null, added bigint not null, changed bigint not null,
  same bigint not null, refused bigint not null, undone bigint not null
);
)sql"},
    {4, R"sql(
alter table shop add column promise_confidence double precision not null default 0.9;
)sql"},
    {5, R"sql(
create table supplier_way (
  supplier text not null references supplier (id), position bigint not null, mode text not null,
  carrier text not null, legs text not null, ready_low_days double precision not null,
  ready_high_days double precision not null, price_cents bigint not null,
  per_kg_cents bigint not null, availability text not null, primary key (supplier, position)
);
create table supplier_claim_days (
  supplier text not null references supplier (id), trouble text not null, days bigint not null,
  primary key (supplier, trouble)
);
alter table purchase add column mode text not null default '';
alter table purchase add column placed_again text;
create table purchase_leg (
  purchase text not null references purchase (id), position bigint not null, leg text not null,
  day text not null, primary key (purchase, position)
);
create table goods_in (
  purchase text primary key references purchase (id), ordered bigint not null,
  again bigint not null, to_look_at bigint not null, accepted bigint not null,
  quarantined bigint not null, sent_back bigint not null, written_off bigint not null,
  first_arrival text
);
create table goods_in_mark (
  purchase text not null references purchase (id), position bigint not null, serial text not null,
  lot text not null, pieces bigint not null, place text not null, day text not null,
  primary key (purchase, position)
);
create index goods_in_mark_serial on goods_in_mark (serial);
create index goods_in_mark_lot on goods_in_mark (lot);
create table used (
  part text not null references part (id), day text not null, what_for text not null,
  quantity bigint not null, primary key (part, day, what_for)
);
create table claim (
  purchase text not null references purchase (id), position bigint not null, trouble text not null,
  pieces bigint not null, carrier text not null, found text not null, tell_by text not null,
  terms text not null, told text, settled text, outcome text not null, note text not null,
  primary key (purchase, position)
);
)sql"},
    {6, R"sql(
create table promise_said (
  order_id text not null, said text not null, promised text not null, in_100 bigint not null,
  day_50 text not null, day_90 text not null, ready text,
  primary key (order_id, said)
);
)sql"},
    {7, R"sql(
create table plan_settings (
  id text primary key, frozen_days bigint not null, day_late double precision not null,
  moved double precision not null, kit_day double precision not null,
  last_day double precision not null, uneven_hour double precision not null
);
create table agreed_plan (
  id text primary key, number bigint not null, agreed text not null, who text not null
);
create table planned_work (
  order_id text not null references customer_order (id), operation text not null,
  person text not null, area text not null, stand bigint not null,
  start_day text not null, start_minute bigint not null,
  end_day text not null, end_minute bigint not null, pinned_by text not null,
  primary key (order_id, operation)
);
)sql"},
    {8, R"sql(
create table time_taken (
  order_id text not null, operation text not null, person text not null, day text not null,
  minutes bigint not null, primary key (order_id, operation, person, day)
);
alter table promise_said add column odds text not null default '';
)sql"},
    {9, R"sql(
create table bike_line (
  order_id text not null, number bigint not null, at text not null, who text not null,
  deed text not null, about text not null, reading text not null, point bigint not null,
  value double precision, outcome text not null, limit_words text not null, tool text not null,
  part text not null, serial text not null, lot text not null, came_by text not null,
  note text not null, primary key (order_id, number)
);
create index bike_line_lot on bike_line (lot) where lot <> '';
create index bike_line_serial on bike_line (serial) where serial <> '';
create index bike_line_part on bike_line (part) where part <> '';
create table sent_once (
  key text primary key, order_id text not null, number bigint not null
);
create unique index sent_once_line on sent_once (order_id, number);
create table tool (
  id text primary key, name text not null, measures text not null, least double precision,
  most double precision, calibrated text, valid_days bigint not null, out_of_use bigint not null
);
)sql"},
    {10, R"sql(
create table if not exists order_flag_said (
  order_id text not null references customer_order (id), flag text not null, reason text not null,
  until text, who text not null, day text not null, primary key (order_id, flag)
);
create table if not exists signed_spec (
  order_id text not null references customer_order (id), version bigint not null,
  signed_by text not null, who text not null, day text not null, price_cents bigint not null,
  changes_cents bigint not null, primary key (order_id, version)
);
create table if not exists signed_line (
  order_id text not null, version bigint not null, slot text not null, part text not null,
  quantity bigint not null, each_cents bigint not null, primary key (order_id, version, slot)
);
create index if not exists signed_line_part on signed_line (part);
create table if not exists order_moved (
  order_id text not null references customer_order (id), number bigint not null,
  from_state text not null, to_state text not null, by_whom text not null, day text not null,
  note text not null, primary key (order_id, number)
);
create table if not exists order_moved_said (
  order_id text not null, number bigint not null, what text not null, said text not null,
  primary key (order_id, number, what)
);
)sql"},
    {11, R"sql(
create table if not exists person_secret (
  person text primary key, password text not null, pin text not null
);
)sql"},
    {12, R"sql(
create table recall (
  number text primary key, notice text not null, part text not null, kind text not null,
  maker text not null, lot_from text not null, lot_to text not null, serial_from text not null,
  serial_to text not null, day_from text, day_to text, wrong text not null,
  danger bigint not null, remedy text not null, opened_by text not null, opened text not null,
  closed text, closed_by text not null, closing_note text not null
);
create table recall_step (
  recall text not null references recall (number), order_id text not null, number bigint not null,
  status text not null, day text not null, who text not null, channel text not null,
  note text not null, primary key (recall, order_id, number)
);
)sql"},
    {13, R"sql(
create table picture (hash text primary key, type text not null, bytes blob not null);
create table goods_photo (
  purchase text not null references purchase (id), claim bigint not null, picture text not null,
  at text not null, who text not null, note text not null,
  primary key (purchase, claim, picture)
);
)sql"},
    {14, R"sql(
create table planned_hand (
  order_id text not null, operation text not null, person text not null,
  primary key (order_id, operation, person),
  foreign key (order_id, operation) references planned_work (order_id, operation)
);
)sql"},
    {15, R"sql(
create table maker_form (
  order_id text not null references customer_order (id), number bigint not null,
  version bigint not null, maker text not null, wanted text not null, sent text not null,
  how text not null, who text not null, primary key (order_id, number)
);
create table maker_form_line (
  order_id text not null, number bigint not null, line bigint not null, position text not null,
  part text not null, article text not null, quantity bigint not null, options text not null,
  serial text not null, note text not null, primary key (order_id, number, line)
);
create table maker_list (
  order_id text not null references customer_order (id), kind text not null,
  number bigint not null, reference text not null, file text not null, day text not null,
  who text not null, primary key (order_id, kind, number)
);
create table maker_list_line (
  order_id text not null, kind text not null, number bigint not null, line bigint not null,
  position text not null, part text not null, article text not null, quantity bigint not null,
  options text not null, serial text not null, note text not null,
  primary key (order_id, kind, number, line)
);
create table difference_answer (
  order_id text not null references customer_order (id), number bigint not null,
  kind text not null, list bigint not null, position text not null, ordered text not null,
  listed text not null, accepted bigint not null, why text not null, signed_by text not null,
  price_change_cents bigint not null, who text not null, day text not null,
  primary key (order_id, number)
);
)sql"},
    {16, R"sql(
alter table customer_order add column budget_asked bigint not null default 0;
alter table customer_order add column budget_cents bigint;
alter table customer_order add column follow_up text;
alter table customer_order add column follow_up_about text not null default '';
)sql"},
    {17, R"sql(
create index bike_line_visit on bike_line (order_id, number) where deed in ('visit', 'given back');
)sql"},
    {18, R"sql(
drop index bike_line_visit;
create index bike_line_care on bike_line (order_id, number)
  where deed in ('visit', 'given back', 'reminded');
)sql"},
};
constexpr std::int64_t kFirstVersion = 1;
constexpr std::int64_t kVersion = std::end(kSteps)[-1].version;

/// Takes the steps from `version` to kVersion, all or none, and marks the book so.
Result<void> raise_version(Database& database, std::int64_t version) {
  if (version == kVersion) return {};
  Result<Transaction> transaction = Transaction::begin(database);
  if (!transaction) return std::unexpected(transaction.error());
  for (const Step& step : kSteps) {
    if (step.version <= version) continue;
    if (Result<void> made = database.run_script(step.sql); !made) return made;
  }
  const Result<Rows> marked = database.run("update book set version = ?", {kVersion});
  if (!marked) return std::unexpected(marked.error());
  return transaction->commit();
}

}  // namespace

Result<void> prepare_schema(Database& database, bool create) {
  const Result<bool> empty = database.is_empty();
  if (!empty) return std::unexpected(empty.error());
  if (*empty && !create) {
    return refuse(Code::kDamaged, "this file is empty: it is no book, or what was in it is lost");
  }
  if (*empty) {
    Result<Transaction> transaction = Transaction::begin(database);
    if (!transaction) return std::unexpected(transaction.error());
    if (Result<void> made = database.run_script(kTables); !made) return made;
    for (const Step& step : kSteps) {
      if (Result<void> made = database.run_script(step.sql); !made) return made;
    }
    Result<Rows> marked = database.run("insert into book (version) values (?)", {kVersion});
    if (!marked) return std::unexpected(marked.error());
    return transaction->commit();
  }
  Result<Rows> version = database.run("select version from book", {});
  if (!version || version->size() != 1) {
    return refuse(Code::kDamaged, "this database holds something else than a Rollwright book");
  }
  const std::int64_t held = whole(version->front()[0]);
  if (held < kFirstVersion || kVersion < held) {
    return refuse(Code::kRefused, fmt::format("this book has version {}, this program writes "
                                              "version {}",
                                              held, kVersion));
  }
  return raise_version(database, held);
}

}  // namespace rollwright::book
