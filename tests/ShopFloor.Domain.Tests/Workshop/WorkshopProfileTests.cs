using ShopFloor.Domain.Invoicing;
using ShopFloor.Domain.Workshop;

namespace ShopFloor.Domain.Tests.Workshop;

public sealed class WorkshopProfileTests
{
    private static WorkshopProfile Sound { get; } = new() { Name = "Moorlight", Country = "DE" };

    /// <summary>The examples of ISO 13616-1 as printed in the registry of IBAN formats, and what is near them.</summary>
    [Theory]
    [InlineData("GB29 NWBK 6016 1331 9268 19", true)]
    [InlineData("DE89370400440532013000", true)]
    [InlineData("NO93 8601 1117 947", true)]
    [InlineData("MT84 MALT 0110 0001 2345 MTLC AST0 01S", true)]
    [InlineData("DE88370400440532013000", false)]
    [InlineData("DE8937040044053201300", false)]
    [InlineData("de89370400440532013000", false)]
    [InlineData("nonsense", false)]
    [InlineData("DE89-3704-0044-0532-0130-00", false)]
    public void IsSound_ChecksFormAndDigits(string iban, bool sound) => Assert.Equal(sound, Iban.IsSound(iban));

    [Theory]
    [InlineData(nameof(WorkshopProfile.Iban), "DE88 3704 0044 0532 0130 00")]
    [InlineData(nameof(WorkshopProfile.Email), "nonsense")]
    [InlineData(nameof(WorkshopProfile.Country), "ZZ")]
    public void Check_WrongEntry_IsSaidBesideItsField(string field, string typed)
    {
        var profile = field switch
        {
            nameof(WorkshopProfile.Iban) => Sound with { Iban = typed },
            nameof(WorkshopProfile.Email) => Sound with { Email = typed },
            _ => Sound with { Country = typed },
        };
        Assert.Equal(field, Assert.Single(profile.Check()).Field);
    }

    [Fact]
    public void Check_NumbersOfTheWorkThatCannotBe_AreSaidBesideTheirFields()
    {
        var profile = Sound with
        {
            TransferGoodDays = 0,
            SprayFromCelsius = 30,
            SprayToCelsius = 20,
            SprayMostHumidity = 101,
            VisibleDeltaE = 0,
        };
        Assert.Equal(
            [
                nameof(WorkshopProfile.TransferGoodDays),
                nameof(WorkshopProfile.SprayToCelsius),
                nameof(WorkshopProfile.SprayMostHumidity),
                nameof(WorkshopProfile.VisibleDeltaE),
            ],
            profile.Check().Select(f => f.Field)
        );
    }

    // ISO 4217: KWD has three decimals, XXX is no currency; neither is in EN 16931's list as the workshop offers it (BR-CL-04).
    [Theory]
    [InlineData("EUR", true)]
    [InlineData("VND", true)]
    [InlineData("KWD", false)]
    [InlineData("XXX", false)]
    [InlineData("eur", false)]
    public void Check_Currency_IsOneThatAnInvoiceCanBeIssuedIn(string currency, bool sound) =>
        Assert.Equal(sound ? [] : [nameof(WorkshopProfile.Currency)], (Sound with { Currency = currency }).Check().Select(f => f.Field!));

    [Fact]
    public void Check_NothingButNameAndCountry_IsSound() => Assert.Empty(Sound.Check());
}
