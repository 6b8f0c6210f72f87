using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Duties;
using ShopFloor.Web.Tests.Office.Invoices;

namespace ShopFloor.Web.Tests.Office.Duties;

/// <summary>Who was erased is known beside the database, whatever happens in between.</summary>
public sealed class ErasureListTests
{
    [Fact]
    public async Task Erase_PictureCannotBeDeleted_IsInTheListAllTheSame()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var (customer, picture) = await WithPictureAsync(shop);
        // A folder cannot be deleted as a file.
        Directory.CreateDirectory(Path.Combine(shop.Shop.Folder, "pictures", $"{picture.Value:N}.original"));
        await Assert.ThrowsAsync<UnauthorizedAccessException>(() => EraseAsync(shop, customer));
        Assert.Contains(customer, shop.Shop.Get<ErasureList>().Read());
    }

    [Fact]
    public async Task Reapply_ListLacksOneThatWasErased_IsGivenIt()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var (customer, _) = await WithPictureAsync(shop);
        Assert.True((await EraseAsync(shop, customer)).IsOk);
        // The program ended before it was written.
        File.Delete(Path.Combine(shop.Shop.Folder, "erased-customers.txt"));
        Assert.Equal(0, await ReapplyErasures.RunAsync(shop.Shop.Get<IServiceProvider>()));
        Assert.Equal([customer], shop.Shop.Get<ErasureList>().Read());
    }

    // The program itself erases without asking whether something is open.
    private static Task<Result<Done>> EraseAsync(InvoicingShop shop, CustomerId customer) =>
        shop.Shop.Get<EraseCustomer>().RunAsync(Asked.BySystem(), new EraseInput(customer));

    // A picture of an order's own, which no other order uses.
    private static async Task<(CustomerId, PictureId)> WithPictureAsync(InvoicingShop shop)
    {
        await using var context = await shop.Shop.ContextAsync();
        var order = await context.Orders.OrderBy(o => o.Number).FirstAsync();
        var picture = new PictureId(Guid.CreateVersion7());
        context.Entry(order.Lines[0]).Property(l => l.Picture).CurrentValue = picture;
        await context.SaveChangesAsync();
        return (order.Customer, picture);
    }
}
