using ShopFloor.Domain.Invoicing;
using static ShopFloor.Domain.Tests.Invoicing.InvoicingExamples;

namespace ShopFloor.Domain.Tests.Invoicing;

/// <summary>Each rule of EN 16931 that a person can break is told by its id; the ids are those of the published rule set 1.3.16.</summary>
public sealed class InvoiceRulesTests
{
    private static readonly InvoiceDraft Good = Draft(Line("1", 2m, 10m));

    private static readonly Dictionary<string, InvoiceDraft> Broken = new(StringComparer.Ordinal)
    {
        ["BR-06"] = Good with { Seller = Seller with { Name = " " } },
        ["BR-07"] = Good with { Buyer = null },
        ["BR-09"] = Good with { Seller = Seller with { Address = Seller.Address with { Country = "XX" } } },
        ["BR-11"] = Good with { Buyer = Buyer with { Address = Buyer.Address with { Country = "" } } },
        ["BR-16"] = Good with { Lines = [] },
        ["BR-22"] = Draft(Line("1", 0m, 10m), Line("2", 1m, 1m)),
        ["BR-25"] = Draft(Line("1", 1m, 10m) with { Name = "" }),
        ["BR-27"] = Draft(Line("1", 1m, -10m)),
        ["BR-28"] = Draft(Line("1", 1m, 10m) with { ListPrice = -1m, PriceDiscount = -11m }),
        ["BR-33"] = Good with { Adjustments = [new(new(IsCharge: false, 1m, ""), TaxKind.Standard(20))] },
        ["BR-38"] = Good with { Adjustments = [new(new(IsCharge: true, 1m, ""), TaxKind.Standard(20))] },
        ["BR-42"] = Draft(Line("1", 1m, 10m) with { Adjustments = [new(IsCharge: false, 1m, "")] }),
        ["BR-44"] = Draft(Line("1", 1m, 10m) with { Adjustments = [new(IsCharge: true, 1m, "")] }),
        ["BR-54"] = Draft(Line("1", 1m, 10m) with { Properties = [new("Material", "")] }),
        ["BR-55"] = Good with { Kind = DocumentKind.CreditNote },
        ["BR-57"] = Good with { Delivery = new(Day, Buyer.Address with { Country = "ZZ" }) },
        ["BR-61"] = Good with { PaymentMeans = [new(PaymentMeansCodes.Transfer)] },
        ["BR-CL-04"] = Good with { Settings = Net with { Currency = "EURO" } },
        ["BR-CL-16"] = Good with { PaymentMeans = [new("999")] },
        ["BR-CL-23"] = Draft(Line("1", 1m, 10m) with { Unit = "PCE" }),
        ["BR-CO-09"] = Good with { Seller = Seller with { VatId = "12345" } },
        ["BR-CO-25"] = Good with { DueDate = null },
        ["BR-CO-26"] = Good with { Seller = Seller with { VatId = null, RegisterId = null, TaxNumber = "9" } },
        ["BR-DEC-01"] = Good with { Adjustments = [new(new(IsCharge: false, 1.005m, "Discount"), TaxKind.Standard(20))] },
        ["BR-DEC-16"] = Good with { Paid = 0.001m },
        ["BR-DEC-24"] = Draft(Line("1", 1m, 10m) with { Adjustments = [new(IsCharge: false, 0.001m, "Discount")] }),
        ["UBL-SR-47"] = Good with { PaymentMeans = [new(PaymentMeansCodes.Cash), new(PaymentMeansCodes.Card)] },
        ["BR-S-02"] = Good with { Seller = Seller with { VatId = null } },
        ["BR-S-05"] = Draft(Line("1", 1m, 10m, 0m)),
        ["BR-S-10"] = Good with { Reasons = [new(TaxCategory.Standard, null, "none")] },
        ["BR-Z-05"] = In(TaxCategory.ZeroRated, percent: 5m),
        ["BR-E-05"] = In(TaxCategory.Exempt, percent: 5m),
        ["BR-E-10"] = In(TaxCategory.Exempt) with { Reasons = [] },
        ["BR-AE-02"] = In(TaxCategory.ReverseCharge),
        ["BR-AE-10"] = In(TaxCategory.ReverseCharge) with
        {
            Reasons = [new(TaxCategory.ReverseCharge, null, " ")],
            Buyer = Buyer with { VatId = "DE1" },
        },
        ["BR-IC-02"] = In(TaxCategory.IntraUnion),
        ["BR-IC-11"] = In(TaxCategory.IntraUnion) with { Buyer = Buyer with { VatId = "DE123" } },
        ["BR-IC-12"] = In(TaxCategory.IntraUnion) with { Buyer = Buyer with { VatId = "DE123" }, Delivery = new(Day) },
        ["BR-G-02"] = In(TaxCategory.Export) with { Seller = Seller with { VatId = null, TaxNumber = "9" } },
        ["BR-O-02"] = In(TaxCategory.OutsideScope),
        ["BR-O-05"] = In(TaxCategory.OutsideScope, percent: 5m) with { Seller = Seller with { VatId = null } },
        ["BR-O-11"] = In(TaxCategory.OutsideScope) with { Lines = [.. In(TaxCategory.OutsideScope).Lines, Line("2", 1m, 1m)] },
        ["nothing-to-invoice"] = Draft(Line("1", 1m, 0m)),
        ["due-date"] = Good with { DueDate = Day.AddDays(-1) },
        ["line-id-twice"] = Draft(Line("1", 1m, 1m), Line("1", 1m, 1m)),
        ["list-price"] = Draft(Line("1", 1m, 10m) with { ListPrice = 12m, PriceDiscount = 1m }),
        ["rounding"] = Good with { Rounding = 1.01m },
        ["discount-without-lines"] = Good with { Adjustments = [new(new(IsCharge: false, 1m, "Discount"), TaxKind.Standard(5))] },
        ["text-too-long"] = Good with { Note = new string('x', 100_000) },
    };

    public static TheoryData<string> Ids => [.. Broken.Keys];

    [Fact]
    public void Issue_GoodDraft_HasNumberDateAndTotals()
    {
        var issued = Good.Issued("2026-0007");
        Assert.Equal(("2026-0007", Day, 24m), (issued.Number, issued.Date, issued.Totals.Due));
        Assert.True(issued.AllowsEInvoice);
    }

    [Theory]
    [MemberData(nameof(Ids))]
    public void Issue_BrokenRule_IsRefusedByItsId(string id) =>
        Assert.Contains(id, Broken[id].Issue("1", Day).Refusals.Select(r => r.Code));

    [Theory]
    [InlineData(TaxCategory.Exempt)]
    [InlineData(TaxCategory.ReverseCharge)]
    [InlineData(TaxCategory.IntraUnion)]
    [InlineData(TaxCategory.Export)]
    [InlineData(TaxCategory.ZeroRated)]
    public void Issue_CategoryWithAllItNeeds_IsIssued(TaxCategory category)
    {
        var draft = In(category) with { Buyer = Buyer with { VatId = "DE123456789" }, Delivery = new(Day, Buyer.Address) };
        Assert.Equal(0m, draft.Issued().Totals.Tax);
    }

    [Fact]
    public void Issue_ReceiptWithoutBuyer_IsIssuedButIsNoEInvoice()
    {
        var receipt = (Good with { Kind = DocumentKind.Receipt, Buyer = null, DueDate = null }).Issued("K1");
        Assert.False(receipt.AllowsEInvoice);
    }

    [Fact]
    public void Issue_ReceiptOfAWorkshopWithoutAnyNumber_IsIssued()
    {
        var nobody = Seller with { VatId = null, RegisterId = null };
        Assert.Equal("K1", (In(TaxCategory.Exempt) with { Kind = DocumentKind.Receipt, Seller = nobody }).Issued("K1").Number);
    }

    [Fact]
    public void Issue_OnlyATaxNumber_NamesTheWorkshop()
    {
        var small = (Seller with { VatId = null, RegisterId = null, TaxNumber = "12/345/67890" }).Identified();
        Assert.True((In(TaxCategory.Exempt) with { Seller = small }).Issued().AllowsEInvoice);
        Assert.Equal(Seller, Seller.Identified());
    }

    /// <summary>United States, streamlined agreement section 324: tax per item or per invoice, half a cent up.</summary>
    [Fact]
    public void Totals_SalesTaxPerLine_RoundsEachLine()
    {
        var draft = Draft(Line("1", 1m, 0.10m, 5m), Line("2", 1m, 0.10m, 5m)) with
        {
            Settings = new(TaxScheme.SalesTax, "Sales tax", "USD", false, TaxRounding.PerLine),
        };
        Assert.Equal(0.02m, draft.Issued().Totals.Tax);
        Assert.Equal(0.01m, (draft with { Settings = draft.Settings with { Rounding = TaxRounding.PerGroup } }).Totals().Tax);
        Assert.False(draft.Issued().AllowsEInvoice);
    }

    private static InvoiceDraft In(TaxCategory category, decimal percent = 0m) =>
        Good with
        {
            Lines = [Line("1", 1m, 10m) with { Tax = new(category, percent) }],
            Reasons = category.NeedsReason() ? [new(category, null, "As the law says")] : [],
        };
}
