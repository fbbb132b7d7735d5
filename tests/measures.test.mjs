// Each measurement ends with one JSON object that says what it found. How long it took is not
// judged here: that is for ./measure on a quiet machine.
import assert from 'node:assert/strict';
import fs from 'node:fs';
import path from 'node:path';
import { claim, house, root, run, skip } from './house.mjs';

const shared = process.env.ROLLWRIGHT_SHARED ?? path.join(root, '../shared');

const measurements = [
  { name: 'templates', args: [], figures: { worst_minutes_difference_percent: 'number' } },
  {
    name: 'transitions', args: [],
    figures: { tried: 'number', wrongly_allowed: 'number', wrongly_refused: 'number' },
    right: ({ tried, wrongly_allowed, wrongly_refused }) =>
      tried > 200000 && wrongly_allowed === 0 && wrongly_refused === 0,
  },
  {
    name: 'ft06', args: [], needs: 'reference/planning',
    figures: { makespan: 'number', feasible: 'boolean' },
    // The proved optimum of this job shop, printed beside it wherever it is used.
    right: ({ makespan, feasible }) => makespan === 55 && feasible,
  },
  {
    name: 'j30-sample', args: [], needs: 'reference/planning',
    figures: { mean_gap_percent: 'number', feasible: 'boolean' },
    right: ({ mean_gap_percent, feasible }) => mean_gap_percent >= 0 && feasible,
  },
  {
    // Few projects at the smallest budget: whether the aims are reached is for ./measure.
    name: 'plan-j30', args: ['--step', '20', '--schedules', '1000'], needs: 'reference/planning',
    figures: { 1000: 'object' },
    right: (told) => told[1000].infeasible === 0 && told[1000].contradictions === 0 &&
      told[1000].deviation_percent >= 0 && told[1000].schedules_per_second > 0,
  },
  {
    name: 'plan-j60', args: ['--step', '20', '--schedules', '1000'], needs: 'reference/planning',
    figures: { 1000: 'object' },
    right: (told) => told[1000].infeasible === 0 && told[1000].contradictions === 0 &&
      told[1000].deviation_percent > 5,
  },
  {
    name: 'plan-set', needs: 'reference/planning',
    args: [path.join(shared, 'reference/planning/psplib/sample'), '--schedules', '1000', '--bounds',
           path.join(shared, 'reference/planning/psplib/bestknown/bounds.csv')],
    figures: { 1000: 'object' },
    right: (told) => told[1000].infeasible === 0 && told[1000].instances >= 3,
  },
  {
    name: 'plan-exact', args: ['--step', '24'], needs: 'reference/planning', timed: true,
    figures: { proved: 'number', instances: 'number', contradictions: 'number' },
    right: ({ proved, instances, contradictions }) =>
      instances === 20 && proved > 10 && contradictions === 0,
  },
  {
    name: 'balance', args: ['--seconds', '0.2'], needs: 'reference/planning', timed: true,
    figures: { proved: 'number', instances: 'number', contradictions: 'number' },
    right: ({ proved, instances, contradictions }) =>
      instances > 700 && proved > 600 && contradictions === 0,
  },
  {
    name: 'textbook', args: [], needs: 'reference/planning',
    figures: { rows: 'number', outside: 'number' },
    right: ({ rows, outside }) => rows > 100 && outside === 0,
  },
  {
    name: 'lead-odds', args: [],
    figures: { deliveries: 'number', inside_50: 'number', inside_80: 'number', inside_90: 'number',
               gain_over_rows: 'number' },
    right: ({ deliveries, gain_over_rows }) => deliveries > 900 && gain_over_rows > 0,
  },
  {
    name: 'route-length', args: [], needs: 'reference/routes',
    figures: { ours_m: 'number', reference_m: 'number' },
    right: ({ ours_m, reference_m }) => reference_m > 1000 && Math.abs(ours_m - reference_m) < 1,
  },
  {
    name: 'ride', args: [], timed: true,
    figures: {
      points: 'number', draws: 'number', seconds: 'number', energy_balance_error: 'number',
    },
    right: ({ energy_balance_error, draws }) => energy_balance_error <= 1e-9 && draws === 1000,
  },
  {
    // Few wheels: whether it holds is for ./measure truing; here it is better than the thumb.
    name: 'truing', args: ['--wheels', '20'], timed: true,
    figures: {
      wheels: 'number', inside_after_3: 'number', turns: 'number', advice_ms: 'number',
      rule_of_thumb_inside_after_3: 'number', rule_of_thumb_turns: 'number',
    },
    right: (told) => told.wheels === 20 && told.turns > 0 &&
      told.inside_after_3 > told.rule_of_thumb_inside_after_3,
  },
  {
    name: 'belts', args: ['--frames', '2'],
    figures: { combinations: 'number', mismatches: 'number', fits: 'number' },
    right: ({ combinations, mismatches, fits }) =>
      combinations > 100 && mismatches === 0 && fits > 0,
  },
  {
    // Few plucks: the share that is refused is for ./measure pluck.
    name: 'pluck', args: ['--cases', '3'], timed: true,
    figures: {
      cases: 'number', refused: 'number', worst_error_percent: 'number',
      not_plucks: 'number', not_plucks_refused: 'number',
    },
    right: (told) => told.cases === 27 && told.refused <= 5 && told.worst_error_percent <= 1 &&
      told.not_plucks > 0 && told.not_plucks_refused === told.not_plucks,
  },
  {
    name: 'mech-checks', args: [],
    figures: { rows: 'number', outside: 'number' },
    right: ({ rows, outside }) => rows > 100 && outside === 0,
  },
  {
    name: 'kill', args: ['--cycles', '1'],
    figures: { cycles: 'number', acknowledged: 'number', lost: 'number' },
    right: ({ cycles, acknowledged, lost }) => cycles === 1 && acknowledged > 0 && lost === 0,
  },
  {
    // Few of everything: times and memory are for ./measure.
    name: 'trace', args: ['--bikes', '60', '--asks', '5'], timed: true,
    figures: { bikes: 'number', parts: 'number', lot_ms: 'number', history_ms: 'number', server_mib: 'number' },
    right: ({ bikes, parts, lot_ms, history_ms, server_mib }) =>
      bikes === 60 && parts > bikes && lot_ms > 0 && history_ms > 0 && server_mib > 0,
  },
  {
    name: 'journal', args: ['--bikes', '20'], timed: true,
    figures: { entries: 'number', entries_per_second: 'number' },
    right: ({ entries, entries_per_second }) => entries >= 20 && entries_per_second > 0,
  },
  {
    name: 'tamper', args: ['--changes', '60', '--tails', '3'],
    figures: { changes: 'number', found: 'number', tail_cut_found: 'boolean', tails: 'number' },
    right: ({ changes, found, tail_cut_found, tails }) =>
      changes === 60 && found === changes && tail_cut_found && tails === 3,
  },
  {
    name: 'tablets', args: ['--tablets', '6', '--seconds', '2', '--every', '50'], timed: true,
    figures: { tablets: 'number', writes: 'number', lost: 'number', doubled: 'number', p99_ms: 'number' },
    right: ({ tablets, writes, lost, doubled, p99_ms }) =>
      tablets === 6 && writes > 20 && lost === 0 && doubled === 0 && p99_ms > 0,
  },
  {
    name: 'spec-exact',
    args: ['--catalogues', '25', '--walks', '1', '--parts', '8', '--every', '8', '--best-every', '0'],
    figures: { cases: 'number', mismatches: 'number' },
    right: ({ cases, mismatches }) => cases > 100 && mismatches === 0,
  },
  {
    name: 'spec-why',
    args: ['--catalogues', '40', '--walks', '1', '--parts', '8', '--every', '40'],
    figures: { sets: 'number', reducible: 'number' },
    right: ({ sets, reducible }) => sets > 50 && reducible === 0,
  },
  {
    name: 'spec-latency', args: ['--walks', '1', '--steps', '10', '--parts', '30'], timed: true,
    figures: { compile_s: 'number', median_ms: 'number', p99_ms: 'number' },
    right: ({ median_ms, p99_ms }) => median_ms > 0 && p99_ms >= median_ms,
  },
  {
    name: 'spec-ratio', args: ['--parts', '10', '--steps', '1'], timed: true,
    figures: { ours_ms: 'number', solver_ms: 'number', ratio: 'number' },
    right: ({ ours_ms, solver_ms }) => ours_ms > 0 && solver_ms > 0,
  },
  {
    name: 'spec-growth', args: ['--most-parts', '10', '--steps', '3'], timed: true,
    figures: { rows: 'object' },
    right: ({ rows }) => rows.length === 1 && rows[0].parts === 10 && rows[0].proven > 0,
  },
  {
    name: 'replan', args: ['--orders', '12', '--shops', '1', '--soon', '0.1', '--last', '0.3'],
    timed: true,
    figures: {
      operations: 'number', first_s: 'number', first_vs_10s_percent: 'number',
      one_s_vs_10s_percent: 'number', infeasible: 'number',
    },
    right: ({ operations, first_s, one_s_vs_10s_percent, infeasible }) =>
      operations > 200 && first_s > 0 && one_s_vs_10s_percent >= 0 && infeasible === 0,
  },
  {
    name: 'promise', args: ['--orders', '12', '--draws', '50', '--runs', '1'], timed: true,
    figures: {
      orders: 'number', draws: 'number', seconds: 'number', placements_per_second: 'number',
    },
    right: ({ orders, draws, seconds }) => orders === 12 && draws === 50 && seconds > 0,
  },
  {
    name: 'promise-demo', args: ['--runs', '1'], timed: true,
    figures: { seconds: 'number', draws: 'number', placements_per_second: 'number' },
    right: ({ seconds, draws }) => seconds > 0 && draws >= 100,
  },
  {
    name: 'photos', args: ['--photos', '2'], timed: true, browser: true,
    figures: { photos: 'number', whole_kb: 'number', cpu_ms: 'number', page_kb: 'number', paper_kb: 'number' },
    right: ({ photos, whole_kb, page_kb, paper_kb }) =>
      photos === 2 && 0 < page_kb && page_kb * 50 < whole_kb && 0 < paper_kb && paper_kb < whole_kb / 10,
  },
  {
    name: 'spec-repaint', args: ['--choices', '3'], timed: true, browser: true,
    figures: { p95_ms: 'number', median_ms: 'number', choices: 'number', slots: 'number' },
    right: ({ p95_ms, median_ms, choices, slots }) =>
      0 < median_ms && median_ms <= p95_ms && choices === 3 && slots >= 1,
  },
];

const chromium = process.env.CHROMIUM ?? '/usr/bin/chromium';

/** How the measurement is run: a script of its own, or a program that was built. */
function command_of(name) {
  const script = path.join(root, 'bench', `${name.replaceAll('-', '_')}.mjs`);
  if (fs.existsSync(script)) return [process.execPath, script];
  const bench = path.join(root, 'build/release/bench', `bench_${name.replaceAll('-', '_')}`);
  assert.ok(fs.existsSync(bench), `${path.relative(root, bench)} is not built`);
  return [bench];
}

await house(async () => {
  const listed = run('./measure', []);
  await claim('./measure lists its measurements', async () => {
    assert.equal(listed.code, 0, listed.err);
    for (const { name } of measurements) {
      assert.match(listed.out, new RegExp(`^ +${name} +\\S`, 'm'));
    }
  });
  await claim('./measure refuses a name that it does not have', async () => {
    const ran = run('./measure', ['no-such-measurement']);
    assert.notEqual(ran.code, 0);
    assert.match(ran.err, /no-such-measurement/);
  });

  for (const { name, args, needs, timed, browser, figures, right } of measurements) {
    await claim(`${name} ends with its figures as JSON`, async () => {
      if (needs && !fs.existsSync(path.join(shared, needs))) {
        skip(`there are no reference data at ${path.relative(root, path.join(shared, needs))}`);
      }
      if (browser && !fs.existsSync(chromium)) skip(`there is no ${chromium}`);
      const [program, ...before] = command_of(name);
      // --data as ./measure gives it to every program.
      const ran = run(program, [...before, '--data', shared, ...args], { seconds: 300 });
      const last = JSON.parse(ran.out.trim().split('\n').at(-1) || 'null');
      assert.ok(last, `nothing was printed; exit code ${ran.code}: ${ran.err}`);
      assert.deepEqual(Object.keys(last).sort(), ['figures', 'holds', 'name']);
      assert.equal(last.name, name);
      assert.equal(typeof last.holds, 'boolean');
      for (const [figure, type] of Object.entries(figures)) {
        assert.equal(typeof last.figures[figure], type, `${figure} in ${JSON.stringify(last)}`);
      }
      if (right) assert.ok(right(last.figures), JSON.stringify(last.figures));
      // The exit code says the same as `holds`; a figure of time may miss on a busy machine.
      assert.equal(ran.code === 0, last.holds, `exit code ${ran.code}, holds ${last.holds}`);
      if (!timed) assert.equal(last.holds, true, ran.out.slice(-400));
    });
  }
});
