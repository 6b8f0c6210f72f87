using CsCheck;
using ShopFloor.Domain.Calls;

namespace ShopFloor.Domain.Tests.Calls;

/// <summary>The states of a call: open, seen, put off, cleared are distinct; the limits are common practice, no source.</summary>
public sealed class CallTests
{
    private static readonly DateTimeOffset Nine = new(2026, 3, 4, 9, 0, 0, TimeSpan.Zero);

    [Fact]
    public void See_AnOpenCall_IsSeenOnceAndStaysWithWhoWasFirst()
    {
        var call = New();
        Assert.Equal(CallState.Open, call.StateAt(Nine));
        Assert.True(call.See("ada", Nine.AddSeconds(20)).IsOk);
        Assert.True(call.See("bo", Nine.AddSeconds(30)).IsOk);
        Assert.Equal((CallState.Seen, "ada", Nine.AddSeconds(20)), (call.StateAt(Nine.AddSeconds(40)), call.SeenBy, call.SeenAt));
    }

    [Fact]
    public void PutOff_ForTenMinutes_CallsAgainByItself()
    {
        var call = New();
        Assert.True(call.PutOff(TimeSpan.FromMinutes(10), "hands full", "ada", Nine).IsOk);
        Assert.Equal(CallState.PutOff, call.StateAt(Nine.AddMinutes(9.99)));
        Assert.Equal(CallState.Open, call.StateAt(Nine.AddMinutes(10)));
        Assert.True(call.See("bo", Nine.AddMinutes(11)).IsOk);
        Assert.Equal(CallState.Seen, call.StateAt(Nine.AddMinutes(11)));
    }

    [Theory]
    [InlineData(1, 6, "hands full", "put-off-long")]
    [InlineData(3, 61, "hands full", "put-off-long")]
    [InlineData(3, 0, "hands full", "put-off-long")]
    [InlineData(3, 10, " ", "reason-missing")]
    public void PutOff_TooLongOrWithoutReason_IsRefused(int priority, int minutes, string reason, string code)
    {
        var call = New(priority);
        Assert.Equal(code, call.PutOff(TimeSpan.FromMinutes(minutes), reason, "ada", Nine).Refusals[0].Code);
        Assert.Equal(CallState.Open, call.StateAt(Nine));
    }

    [Fact]
    public void ComeBack_WithinTheHysteresis_IsTheSameCallAndStaysSeen()
    {
        var call = New();
        call.See("ada", Nine);
        call.Clear(Nine.AddMinutes(1));
        Assert.Equal("call-over", call.See("bo", Nine.AddMinutes(1)).Refusals[0].Code);
        Assert.True(call.ComeBack(Nine.AddMinutes(3)));
        Assert.Equal((CallState.Seen, 1), (call.StateAt(Nine.AddMinutes(3)), call.Returns));
        call.Clear(Nine.AddMinutes(4));
        Assert.False(call.ComeBack(Nine.AddMinutes(6.01)));
        Assert.Equal(CallState.Cleared, call.StateAt(Nine.AddMinutes(7)));
    }

    // Law: whatever is done in any order, a call is in exactly one state, a cleared one takes no answer, and nobody is unseen again but by time.
    [Fact]
    public void Verbs_InAnyOrder_KeepTheStatesApart() =>
        Gen.Select(Gen.Int[0, 3], Gen.Int[0, 300])
            .Array[1, 30]
            .Sample(moves =>
            {
                var (call, now) = (New(3), Nine);
                foreach (var (verb, wait) in moves)
                {
                    now = now.AddSeconds(wait);
                    var cleared = call.ClearedAt is not null;
                    var ok = verb switch
                    {
                        0 => call.See("ada", now).IsOk,
                        1 => call.PutOff(TimeSpan.FromSeconds(wait + 1), "later", "ada", now).IsOk,
                        2 => call.ComeBack(now),
                        _ => true,
                    };
                    if (verb == 3)
                        call.Clear(now);
                    Assert.True(verb > 1 || ok != cleared);
                    Assert.Equal(call.ClearedAt is not null, call.StateAt(now) == CallState.Cleared);
                    Assert.False(call.StateAt(now) == CallState.Seen && call.SeenBy is null);
                }
            });

    [Fact]
    public void Report_OfADay_CountsPerHourAndNamesTheTopSources()
    {
        var calls = Enumerable
            .Range(0, 8)
            .Select(i => New(source: i < 5 ? "over: oven-1" : $"late: {i}", at: Nine.AddMinutes(i * 10)))
            .ToList();
        calls[0].See("ada", Nine.AddSeconds(30));
        calls[1].See("ada", Nine.AddMinutes(10).AddSeconds(90));
        calls[2].Clear(Nine.AddMinutes(21));
        var report = CallReport.Of(calls, Nine, Nine.AddHours(4));
        Assert.Equal((8, 2.0, 60.0, 1), (report.Calls, report.PerHour, report.MedianSecondsToSeen, report.NeverSeen));
        Assert.Equal(new CallSource("over: oven-1", 5), report.Top[0]);
        Assert.Equal(0, CallReport.Of(calls, Nine.AddDays(1), Nine.AddDays(2)).Calls);
    }

    private static Call New(int priority = 2, string source = "near: oven-1", DateTimeOffset? at = null) =>
        new(Guid.Empty, "near L-1 5", "near", "L-1", source, priority, at ?? Nine);
}
