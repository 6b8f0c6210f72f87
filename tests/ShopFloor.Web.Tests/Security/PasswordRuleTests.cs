using ShopFloor.Web.Security;

namespace ShopFloor.Web.Tests.Security;

/// <summary>Length 12 to 128 and no composition rule: OWASP ASVS 5.0, 6.2.1 to 6.2.11. The guessable examples are ours.</summary>
public sealed class PasswordRuleTests
{
    [Theory]
    [InlineData("seven grey herons")]
    [InlineData("Überfahrt nach Norden")]
    [InlineData("猫が十二匹いるよねえ本当に")]
    [InlineData("x9!kQ2#mZ7$pL4")]
    public void Fault_SeveralWordsOrRandom_IsNone(string password) => Assert.Null(PasswordRule.Fault(password, ["ada"]));

    [Theory]
    [InlineData("elevenchars")]
    [InlineData("password1234")]
    [InlineData("P@ssw0rd2026!")]
    [InlineData("qwertyuiop12")]
    [InlineData("123456789012")]
    [InlineData("abcabcabcabc")]
    [InlineData("aaaaaaaaaaaaaaaa")]
    [InlineData("ShopFloor2026!")]
    [InlineData("Adelheid-2026")]
    public void Fault_ShortOrGuessable_SaysWhatToDo(string password) =>
        Assert.Contains("Use", PasswordRule.Fault(password, ["Adelheid"]) ?? "", StringComparison.Ordinal);

    [Fact]
    public void Fault_AtTheEndsOfLength_CountsInclusive()
    {
        Assert.Null(PasswordRule.Fault("grey herons7", []));
        Assert.Null(PasswordRule.Fault(string.Concat(Enumerable.Repeat("grey herons7 and", 8)), []));
        Assert.NotNull(PasswordRule.Fault(string.Concat(Enumerable.Repeat("grey herons7 and", 8)) + "x", []));
    }
}
