/* The permit to work, written a second time from its rules: two parties, three people, three points, three
 * earths, a tool, a working earth, two moments. Said by hand, not made from the program, so that two checkers
 * have to agree.
 *
 * Acts are chosen freely. At any moment the free choice may end; from then on only what winds down goes on
 * (each such act leaves less to be wound down, so that it ends), and it must come to its end: no dead ends.
 *
 * -DOUT=n takes rule n out: an assertion must then fail. -DAFTER=0: control earths come off before cancelling.
 *
 * A proof is one act here; its single steps are walked in the program's own check. People are 1 (issues,
 * leads), 2 (issues, accepts, leads), 3 (accepts). A person's place: 0 nowhere, else the party's number + 1.
 */
#ifndef OUT
#define OUT 0
#endif
#ifndef AFTER
#define AFTER 1
#endif
#define RULE(n, condition) (OUT == n || (condition))

#define NONE 0
#define ISSUED 1
#define ACCEPTED 2
#define SUSPENDED 3
#define HANDED_BACK 4
#define TAKEN_BACK 5

byte locked = 0;             /* of the three points, always in the same order: they are alike */
bit opened = 0;              /* the next one is open and not locked yet */
bit supplies = 0;
bit proved_hv = 0, proved_lv = 0;
bit old_hv = 0, old_lv = 0;  /* proved at the first moment, and the second has come */
bit ch_earth = 0, ch_line = 0, cl_earth = 0, cl_line = 0, we_earth = 0, we_line = 0;
bit excused_hv = 0;          /* a lead decided that no earth can be fitted */
bit cancelled = 0, unlocked = 0;
bit late = 0;                /* the second moment: short permits are over */
byte holding[2], holder[2], issuer[2];
bit long_end[2], worked[2];
bit tool = 0;                /* of the first party, and so is the working earth */
byte place[4];               /* of persons 2 and 3; 1 has not heard the briefing */

#define HOLDS(p) (holding[p] == ISSUED || holding[p] == ACCEPTED || holding[p] == SUSPENDED)
#define ANY_HOLDS (HOLDS(0) || HOLDS(1))
#define ANY_ACCEPTED (holding[0] == ACCEPTED || holding[1] == ACCEPTED)
#define EVER_ISSUED (holding[0] != NONE || holding[1] != NONE)
#define NOBODY_ON(p) (place[2] != p + 1 && place[3] != p + 1)
#define ALL_OFF (place[2] == 0 && place[3] == 0)
#define WORKING_EARTH (we_earth || we_line)
#define ANY_EARTH (ch_earth || ch_line || cl_earth || cl_line || WORKING_EARTH)
#define EARTHED_HV (ch_earth && ch_line)
#define EARTHED_LV (cl_earth && cl_line)
#define LOCKED (locked == 3)
#define IN_TIME(p) (!late || long_end[p])
#define NOTHING_LEFT (ALL_OFF && !tool && !ANY_HOLDS)

/* What must hold in every state. */
#define ISOLATED (LOCKED && !unlocked && supplies && proved_hv && proved_lv && (EARTHED_HV || excused_hv) && EARTHED_LV)
inline check() {
    assert(!cancelled || NOTHING_LEFT);
    assert(!unlocked || (cancelled && !ANY_EARTH && NOTHING_LEFT));
    assert(!ANY_ACCEPTED || ISOLATED);
    assert((!ch_line || ch_earth) && (!cl_line || cl_earth) && (!we_line || we_earth));
    assert(!WORKING_EARTH || (worked[0] && HOLDS(0) && EARTHED_HV));
    assert((!HOLDS(0) || issuer[0] != holder[0]) && (!HOLDS(1) || issuer[1] != holder[1]));
    assert(place[2] == 0 || (HOLDS(place[2] - 1) && worked[place[2] - 1]));
    assert(place[3] == 0 || (HOLDS(place[3] - 1) && worked[place[3] - 1]));
    assert(!tool || HOLDS(0));
}

/* ---- the isolation ---- */
#define ISOLATION_STANDS (!cancelled && (OUT == 1 || !ANY_ACCEPTED))
#define ISOLATE \
    :: atomic { !ending && ISOLATION_STANDS && locked < 3 && !opened -> opened = 1; check() } \
    :: atomic { !ending && ISOLATION_STANDS && opened -> opened = 0; locked++; check() } \
    :: atomic { !ending && ISOLATION_STANDS && LOCKED && !supplies -> supplies = 1; check() } \
    :: atomic { !ending && ISOLATION_STANDS && RULE(2, LOCKED && supplies) && RULE(3, !ch_line && !we_line) && \
                (!proved_hv || old_hv) -> \
                  assert(LOCKED && supplies && !ch_line && !we_line); proved_hv = 1; old_hv = 0; check() } \
    :: atomic { !ending && ISOLATION_STANDS && OUT == 1 && excused_hv && !ch_line && proved_hv -> \
                  proved_hv = 0; old_hv = 0; check() } /* begun anew */ \
    :: atomic { !ending && ISOLATION_STANDS && LOCKED && supplies && !cl_line && (!proved_lv || old_lv) -> \
                  proved_lv = 1; old_lv = 0; check() } \
    :: atomic { !ending && ISOLATION_STANDS && LOCKED && !ch_earth -> ch_earth = 1; check() } \
    :: atomic { !ending && ISOLATION_STANDS && RULE(4, ch_earth) && LOCKED && !ch_line && \
                RULE(5, proved_hv && !old_hv) -> assert(proved_hv && !old_hv); ch_line = 1; check() } \
    :: atomic { !ending && ISOLATION_STANDS && LOCKED && !cl_earth -> cl_earth = 1; check() } \
    :: atomic { !ending && ISOLATION_STANDS && LOCKED && cl_earth && !cl_line && proved_lv && !old_lv -> \
                  cl_line = 1; check() } \
    :: atomic { !ending && !cancelled && !ANY_ACCEPTED && !EARTHED_HV && !excused_hv -> excused_hv = 1; check() }

/* ---- a party ---- */
#define READY (LOCKED && supplies && proved_hv && proved_lv && RULE(7, EARTHED_HV || excused_hv) && \
               RULE(8, EARTHED_LV) && RULE(26, !cancelled))
#define JUST_PROVED (EARTHED_HV || (proved_hv && !old_hv))
#define MAY_ISSUE(p, lasts) (READY && RULE(9, JUST_PROVED) && (!late || lasts) && \
               (holding[p] == NONE || (holding[p] == TAKEN_BACK && !worked[p])))
#define ISSUE(p, by, to, lasts) \
    :: atomic { !ending && MAY_ISSUE(p, lasts) -> assert(JUST_PROVED); \
                  holding[p] = ISSUED; issuer[p] = by; holder[p] = to; long_end[p] = lasts; check() }
#define PARTY(p) \
    ISSUE(p, 1, 3, 0) \
    ISSUE(p, 1, 2, 0) \
    ISSUE(p, 2, 3, 0) \
    ISSUE(p, 1, 3, 1) \
    :: atomic { !ending && OUT == 10 && MAY_ISSUE(p, 0) -> /* to oneself */ \
                  holding[p] = ISSUED; issuer[p] = 2; holder[p] = 2; long_end[p] = 0; check() } \
    :: atomic { !ending && holding[p] == ISSUED && READY && RULE(11, IN_TIME(p)) -> \
                  assert(IN_TIME(p)); holding[p] = ACCEPTED; worked[p] = 1; check() } \
    :: atomic { !ending && (holding[p] == ISSUED || holding[p] == ACCEPTED) -> holding[p] = SUSPENDED; check() } \
    :: atomic { !ending && holding[p] == SUSPENDED && READY && JUST_PROVED && IN_TIME(p) -> \
                  holding[p] = ISSUED; check() } \
    :: atomic { !ending && holding[p] == SUSPENDED && RULE(12, NOBODY_ON(p)) && holder[p] == 2 -> \
                  assert(NOBODY_ON(p)); holder[p] = 3; holding[p] = ISSUED; check() } \
    :: atomic { !ending && holding[p] == SUSPENDED && NOBODY_ON(p) && holder[p] == 3 && \
                RULE(13, issuer[p] != 2) -> holder[p] = 2; holding[p] = ISSUED; check() } \
    :: atomic { !ending && HOLDS(p) && !long_end[p] -> long_end[p] = 1; check() } \
    :: atomic { !ending && RULE(14, holding[p] == ACCEPTED && IN_TIME(p)) && RULE(15, place[2] == 0) -> \
                  assert(holding[p] == ACCEPTED && IN_TIME(p) && place[2] == 0); place[2] = p + 1; check() } \
    :: atomic { !ending && holding[p] == ACCEPTED && IN_TIME(p) && place[3] == 0 -> place[3] = p + 1; check() }

#define WORK \
    :: atomic { !ending && RULE(16, holding[0] == ACCEPTED) && !tool -> tool = 1; check() } \
    :: atomic { !ending && RULE(17, holding[0] == ACCEPTED && IN_TIME(0)) && RULE(18, EARTHED_HV) && !we_earth -> \
                  we_earth = 1; check() } \
    :: atomic { !ending && holding[0] == ACCEPTED && IN_TIME(0) && we_earth && !we_line && EARTHED_HV -> \
                  we_line = 1; check() }

/* ---- winding down ---- */
#define CLEAR(p) (RULE(19, NOBODY_ON(p)) && (p == 1 || (RULE(20, !tool) && RULE(21, !WORKING_EARTH))))
#define BY_RULE (cancelled || AFTER == 0 || !EVER_ISSUED)
#define CONTROL_MAY_COME_OFF (RULE(22, NOTHING_LEFT) && RULE(23, BY_RULE))
#define BACK(p) \
    :: atomic { holding[p] == ISSUED && CLEAR(p) -> holding[p] = TAKEN_BACK; check() } \
    :: atomic { (holding[p] == ACCEPTED || holding[p] == SUSPENDED) && CLEAR(p) -> \
                  holding[p] = HANDED_BACK; check() }
#define WIND_DOWN \
    BACK(0) \
    BACK(1) \
    :: atomic { place[2] != 0 -> place[2] = 0; check() } \
    :: atomic { place[3] != 0 -> place[3] = 0; check() } \
    :: atomic { tool -> tool = 0; check() } \
    :: atomic { we_line && RULE(27, place[2] != 1) -> assert(place[2] != 1); /* by 3, who may still be on */ \
                  we_line = 0; check() } \
    :: atomic { we_earth && RULE(24, !we_line) -> we_earth = 0; check() } \
    :: atomic { ch_line && CONTROL_MAY_COME_OFF -> assert(NOTHING_LEFT && BY_RULE); \
                  ch_line = 0; proved_hv = 0; old_hv = 0; check() } \
    :: atomic { cl_line && CONTROL_MAY_COME_OFF -> assert(NOTHING_LEFT && BY_RULE); \
                  cl_line = 0; proved_lv = 0; old_lv = 0; check() } \
    :: atomic { ch_earth && RULE(24, !ch_line) -> ch_earth = 0; check() } \
    :: atomic { cl_earth && RULE(24, !cl_line) -> cl_earth = 0; check() } \
    :: atomic { !cancelled && RULE(25, !ANY_HOLDS) && (AFTER == 1 || !ANY_EARTH) -> cancelled = 1; check() } \
    :: atomic { cancelled && !unlocked && locked > 0 && RULE(28, !ANY_EARTH && NOTHING_LEFT) -> \
                  unlocked = 1; check() }

active proctype permit() {
    bit ending = 0;
    do
    ISOLATE
    PARTY(0)
    PARTY(1)
    WORK
    :: atomic { !ending && !late -> late = 1; old_hv = proved_hv; old_lv = proved_lv; check() }
    WIND_DOWN
    :: atomic { !ending -> ending = 1 }
    :: else -> break
    od;
    assert(cancelled && !ANY_EARTH && NOTHING_LEFT && (unlocked || locked == 0))
}
