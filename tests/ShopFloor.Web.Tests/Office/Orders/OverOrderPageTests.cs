using Bunit;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Live;
using ShopFloor.Web.Office.Costs;
using ShopFloor.Web.Office.Orders;
using ShopFloor.Web.Shared.Controls;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Office.Orders;

/// <summary>An order's page offers only what can still be done with it.</summary>
public sealed class OverOrderPageTests
{
    private const string Off = "Call the order off";
    private const string First = "Done first?";

    [Theory]
    [InlineData(PieceState.Booked, true, true)]
    [InlineData(PieceState.CheckedGood, true, false)]
    [InlineData(PieceState.HandedOver, false, false)]
    [InlineData(PieceState.Spoiled, true, false)]
    public async Task Page_ByTheStateOfThePieces_OffersCallingOffAndDoingFirst(PieceState state, bool off, bool first)
    {
        await using var shop = await ChangedShop.OpenAsync(ChangedShop.Plates(2));
        if (state != PieceState.Booked)
            await using (var context = await shop.Shop.ContextAsync())
            {
                await context.WorkItems.ExecuteUpdateAsync(w => w.SetProperty(i => i.State, WorkState.Done));
                await context.Pieces.ExecuteUpdateAsync(w => w.SetProperty(p => p.State, state));
            }
        await using var page = TestPage.Of(shop.Shop);
        page.ComponentFactories.AddStub<LiveRefresh>();
        page.ComponentFactories.AddStub<ConfirmNamed>();
        page.ComponentFactories.AddStub<OrderProof>();
        page.ComponentFactories.AddStub<CostSheet>();
        page.ComponentFactories.AddStub<OrderTicket>();
        page.ComponentFactories.AddStub<OrderLetterForms>();

        var open = page.Render<OneOrderPage>(p => p.Add(o => o.Number, shop.Booked.Number).AddCascadingValue(TestPage.Session(shop.Owner)));

        open.WaitForElement("#note");
        Assert.Equal(off, open.Markup.Contains(Off, StringComparison.Ordinal));
        Assert.Equal(first, open.Markup.Contains(First, StringComparison.Ordinal));
    }
}
