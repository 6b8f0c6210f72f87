using CsCheck;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Domain.Quantities;
using static ShopFloor.Domain.Tests.Invoicing.InvoicingExamples;

namespace ShopFloor.Domain.Tests.Invoicing;

public sealed class DepositsTests
{
    [Fact]
    public void Deduct_DepositInvoice_ChargesItsTaxOnce()
    {
        var order = Draft(Line("1", 10m, 100m), Line("2", 1m, 200m, 5m));
        var deposit = DepositInvoice(order, 300m);
        Assert.Equal([250m, 50m], deposit.Totals.Groups.Select(g => g.Taxable));
        Assert.Equal(["Deposit on order A-17, 20 %", "Deposit on order A-17, 5 %"], deposit.Content.Lines.Select(l => l.Name));
        var final = Deposits.Deduct(order, [deposit], d => $"Deposit {d.Number}").Issued("2");
        Assert.Equal(
            [("D1", "Deposit D1, 20 %"), ("D2", "Deposit D1, 5 %")],
            final.Content.Lines.Where(Deposits.IsDeduction).Select(l => (l.Id, l.Name))
        );
        Assert.Equal((900m, 157.50m), (final.Totals.WithoutTax, final.Totals.Tax));
        Assert.Equal(order.Totals().WithTax, deposit.Totals.WithTax + final.Totals.WithTax);
        Assert.Equal([deposit.Reference], final.Content.Preceding);
        Assert.Equal(0m, final.Totals.Paid);
    }

    /// <summary>Splitting a sale into deposit and rest never loses a cent of what was shown.</summary>
    [Fact]
    public void Deduct_AnyOrderShownWithTax_DepositAndRestComeToTheShownPrice() =>
        Gen.Select(GrossLines, Gen.Int[1, 100])
            .Where((lines, _) => lines.Sum(l => l.Amount) >= 1m)
            .Sample(
                (lines, percent) =>
                {
                    var order = GrossDraft(lines);
                    var asked = Money.Round(order.Totals().Payable * percent / 100m);
                    var parts = Deposits.Lines(order.Totals().Groups, new Money(asked, "EUR"), pricesIncludeTax: true, "Deposit");
                    var deposit = (order with { Kind = DocumentKind.DepositInvoice, Lines = parts.Lines, Rounding = 0m }).Promising(
                        parts.Promised
                    );
                    Assert.Equal(asked, deposit.Totals().Due);
                    var issued = new IssuedInvoice("D1", Day, deposit, deposit.Totals());
                    var final = Deposits.Deduct(order, [issued], d => d.Number);
                    Assert.Equal(lines.Sum(l => l.Amount) - asked, final.Totals().Due);
                    // The lines show what the deposit invoice says, so that they add up without a rounding.
                    Assert.Equal(-asked, final.Lines.Where(Deposits.IsDeduction).Sum(l => l.Shown!.Amount));
                },
                iter: 2000
            );

    private static IssuedInvoice DepositInvoice(InvoiceDraft order, decimal amount)
    {
        var lines = Deposits.Lines(order.Totals().Groups, new Money(amount, "EUR"), pricesIncludeTax: false, "Deposit on order A-17").Lines;
        return (order with { Kind = DocumentKind.DepositInvoice, Lines = lines }).Issued("D1");
    }
}
