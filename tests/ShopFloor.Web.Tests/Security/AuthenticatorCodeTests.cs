using System.Text;
using ShopFloor.Web.Security.SecondSteps;

namespace ShopFloor.Web.Tests.Security;

/// <summary>The codes that are accepted are those of RFC 6238.</summary>
public sealed class AuthenticatorCodeTests
{
    private static readonly byte[] Key = Encoding.ASCII.GetBytes("12345678901234567890");

    /// <summary>RFC 6238, Appendix B, mode SHA1. The table has eight digits; a code of six is their end (RFC 4226, section 5.3, step 3).</summary>
    public static TheoryData<long, string> Table =>
        new()
        {
            { 59, "94287082" },
            { 1111111109, "07081804" },
            { 1111111111, "14050471" },
            { 1234567890, "89005924" },
            { 2000000000, "69279037" },
            { 20000000000, "65353130" },
        };

    [Theory]
    [MemberData(nameof(Table))]
    public void Match_CodesOfTheStandard_AreAcceptedOnceAndNoOthers(long seconds, string eight)
    {
        var (now, code) = (DateTimeOffset.FromUnixTimeSeconds(seconds), eight[2..]);
        var step = AuthenticatorCode.Match(Key, code, now, last: 0);
        Assert.Equal(seconds / 30, step);
        Assert.Equal(step, AuthenticatorCode.Match(Key, code[..3] + " " + code[3..], now, last: 0));
        Assert.Null(AuthenticatorCode.Match(Key, code, now, last: step!.Value));
        Assert.Null(AuthenticatorCode.Match(Key, eight, now, last: 0));
        Assert.Null(AuthenticatorCode.Match(Key, code[1..] + (code[0] == '9' ? '0' : (char)(code[0] + 1)), now, last: 0));
    }

    // RFC 6238, section 5.2: at most one step for what is on its way.
    [Theory]
    [InlineData(-2, false)]
    [InlineData(-1, true)]
    [InlineData(0, true)]
    [InlineData(1, true)]
    [InlineData(2, false)]
    public void Match_ClockThatGoesApart_IsForgivenOneStep(int steps, bool isGood)
    {
        var now = DateTimeOffset.FromUnixTimeSeconds(1111111109);
        var code = AuthenticatorCode.Of(Key, AuthenticatorCode.StepOf(now) + steps);
        Assert.Equal(isGood, AuthenticatorCode.Match(Key, code, now, last: 0) is not null);
    }

    [Theory]
    [InlineData("")]
    [InlineData("abcdef")]
    [InlineData("12345")]
    [InlineData("1234567")]
    public void Match_WhatIsNoCode_IsNone(string typed) =>
        Assert.Null(AuthenticatorCode.Match(Key, typed, DateTimeOffset.FromUnixTimeSeconds(59), last: 0));

    // RFC 4648, section 10, without padding, and the key above as apps are given it.
    [Theory]
    [InlineData("", "")]
    [InlineData("f", "MY")]
    [InlineData("fo", "MZXQ")]
    [InlineData("foo", "MZXW6")]
    [InlineData("foob", "MZXW6YQ")]
    [InlineData("fooba", "MZXW6YTB")]
    [InlineData("foobar", "MZXW6YTBOI")]
    public void Text_OfAKey_IsBase32(string key, string text) => Assert.Equal(text, AuthenticatorCode.Text(Encoding.ASCII.GetBytes(key)));

    [Fact]
    public void RecoveryCodes_AreTenDifferentOnesAndReadHoweverTheyAreTyped()
    {
        var codes = RecoveryCodes.Make();
        Assert.Equal(RecoveryCodes.Count, codes.Distinct(StringComparer.Ordinal).Count());
        Assert.All(
            codes,
            c =>
                Assert.Equal(
                    RecoveryCodes.HashOf(c),
                    RecoveryCodes.HashOf(" " + c.Replace("-", "", StringComparison.Ordinal).ToUpperInvariant())
                )
        );
    }
}
