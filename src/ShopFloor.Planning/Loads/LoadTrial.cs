namespace ShopFloor.Planning.Loads;

/// <summary>Pricing and making changes: at most two loads change or vanish, and one is put in.</summary>
internal sealed partial class LoadState
{
    private readonly LoadDraft draftA;
    private readonly LoadDraft draftB;
    private readonly LoadDraft draftNew;

    // The change in cost when the drafts come true; Impossible when a load finds no time or the change is surely above the limit.
    private long Price(long limit = Impossible)
    {
        long delta = 0;
        if (draftA.Used)
            delta += PriceOf(draftA) - PriceOf(draftA.Load);
        if (draftB.Used)
            delta += PriceOf(draftB) - PriceOf(draftB.Load);
        if (draftNew.Used)
            delta += PriceOf(draftNew);
        var (a, b, c) = (draftA.Used ? draftA.Oven : -1, draftB.Used ? draftB.Oven : -1, draftNew.Used ? draftNew.Oven : -1);
        if (a >= 0)
            delta += PriceSequence(a, b == a && (c == a || c < 0) || b < 0 && (c == a || c < 0) ? limit - delta : Impossible);
        if (b >= 0 && b != a)
            delta += PriceSequence(b, c >= 0 && c != a && c != b ? Impossible : limit - delta);
        if (c >= 0 && c != a && c != b)
            delta += PriceSequence(c, limit - delta);
        return delta >= Impossible / 2 ? Impossible : delta;
    }

    private long PriceOf(LoadDraft draft) => draft.Count == 0 ? 0 : model.DwellPrice * draft.Dwell + model.LoadPrice;

    private long PriceOf(int b) => model.DwellPrice * dwell[b] + model.LoadPrice;

    private (int From, int Last) Changed(int o)
    {
        int from = int.MaxValue,
            last = -1;
        Widen(draftA, o, ref from, ref last);
        Widen(draftB, o, ref from, ref last);
        Widen(draftNew, o, ref from, ref last);
        return (from, last);
    }

    private static void Widen(LoadDraft draft, int o, ref int from, ref int last)
    {
        if (!draft.Used || draft.Oven != o)
            return;
        from = Math.Min(from, draft.Position);
        last = Math.Max(last, draft.Position);
    }

    // The change of set-up and lateness cost on one oven, run from the first changed place until all is as before.
    private long PriceSequence(int o, long limit)
    {
        var (p, last) = Changed(o);
        var (ends, intervals, order, n) = (endAt[o], intervalAt[o], sequence[o], length[o]);
        int time = 0,
            interval = 0,
            before = model.First[o];
        if (p > 0)
            (time, interval, before) = (ends[p - 1], intervals[p - 1], family[order[p - 1]]);
        var beforeOld = before;
        var loadA = draftA.Used ? draftA.Load : -1;
        var loadB = draftB.Used ? draftB.Load : -1;
        var insert = draftNew.Used && draftNew.Oven == o ? draftNew.Position : -1;
        long delta = 0;
        for (; ; p++)
        {
            if (p == insert && !PriceDraft(o, draftNew, ref interval, ref time, ref before, ref delta))
                return Impossible;
            if (p >= n)
                return delta;
            var b = order[p];
            delta -= model.SetupPrice[beforeOld * model.A + family[b]] + lateAt[o][p];
            beforeOld = family[b];
            var draft =
                b == loadA ? draftA
                : b == loadB ? draftB
                : null;
            if (draft is not null)
            {
                if (draft.Count > 0 && !PriceDraft(o, draft, ref interval, ref time, ref before, ref delta))
                    return Impossible;
                continue;
            }
            var pair = before * model.A + family[b];
            if (!model.Next(o, model.SetupTime[pair], dwell[b], release[b], ref interval, ref time))
                return Impossible;
            delta += model.SetupPrice[pair];
            before = family[b];
            if (time == ends[p] && interval == intervals[p])
            {
                delta += lateAt[o][p];
                if (p >= last)
                    return delta;
            }
            else
            {
                delta += Late(b, time);
                // From here on everything is the same loads at the same time or later: it can only cost more.
                if (delta > limit && p >= last && (interval > intervals[p] || (interval == intervals[p] && time > ends[p])))
                    return Impossible;
            }
        }
    }

    private bool PriceDraft(int o, LoadDraft draft, ref int interval, ref int time, ref int before, ref long delta)
    {
        var pair = before * model.A + draft.Family;
        if (!model.Next(o, model.SetupTime[pair], draft.Dwell, draft.Release, ref interval, ref time))
            return false;
        delta += model.SetupPrice[pair] + draft.Late(time, ramp);
        before = draft.Family;
        return true;
    }

    // Asks for the lay-out of a load that gained a job or changed its oven; alone every job fits an eligible oven.
    private bool RoomFor(LoadDraft draft, bool atOnce = false)
    {
        if (model.Problem.Room is not { } factory || draft.Count <= 1)
            return true;
        room ??= factory();
        for (var k = 0; k < draft.Count; k++)
            asked[k] = model.JobAt[draft.Jobs[k]];
        var jobs = asked.AsSpan(0, draft.Count);
        return atOnce ? room.FitsAtOnce(draft.Oven, jobs) : room.Fits(draft.Oven, jobs);
    }

    // Makes the drafts come true.
    private void Apply(long delta)
    {
        Cost += delta;
        var (a, b, c) = (draftA.Used ? draftA.Oven : -1, draftB.Used ? draftB.Oven : -1, draftNew.Used ? draftNew.Oven : -1);
        var (rangeA, rangeB, rangeC) = (a >= 0 ? Changed(a) : default, b >= 0 ? Changed(b) : default, c >= 0 ? Changed(c) : default);
        var insertBefore = draftNew.Used ? (draftNew.Position < length[c] ? sequence[c][draftNew.Position] : -1) : -1;
        var fresh = -1;
        if (draftNew.Used)
        {
            fresh = NewLoad(draftNew.Family);
            InsertAt(c, insertBefore < 0 ? length[c] : position[insertBefore], fresh);
            Fill(fresh, draftNew);
        }
        if (draftA.Used)
            Fill(draftA.Load, draftA);
        if (draftB.Used)
            Fill(draftB.Load, draftB);
        RemoveIfEmpty(draftA);
        RemoveIfEmpty(draftB);
        if (a >= 0)
            Run(a, rangeA.From, rangeA.Last + 1);
        if (b >= 0 && b != a)
            Run(b, rangeB.From, rangeB.Last + 1);
        if (c >= 0 && c != a && c != b)
            Run(c, rangeC.From, rangeC.Last + 1);
    }

    private void Fill(int b, LoadDraft draft)
    {
        if (draft.Count > 0 && family[b] != draft.Family)
            ChangeFamily(b, draft.Family);
        if (members[b].Length < draft.Count)
            members[b] = new int[Math.Max(draft.Count, members[b].Length * 2)];
        count[b] = draft.Count;
        for (var k = 0; k < draft.Count; k++)
        {
            var j = draft.Jobs[k];
            members[b][k] = j;
            loadOf[j] = b;
        }
        if (draft.Count > 0)
            Measure(b);
    }

    private void ChangeFamily(int b, int f)
    {
        var old = family[b];
        var last = loadsOf[old][--loadsCount[old]];
        loadsOf[old][indexInFamily[b]] = last;
        indexInFamily[last] = indexInFamily[b];
        family[b] = f;
        indexInFamily[b] = loadsCount[f];
        loadsOf[f][loadsCount[f]++] = b;
    }

    private void RemoveIfEmpty(LoadDraft draft)
    {
        if (!draft.Used || draft.Count > 0)
            return;
        RemoveAt(oven[draft.Load], position[draft.Load]);
        DropLoad(draft.Load);
    }
}
