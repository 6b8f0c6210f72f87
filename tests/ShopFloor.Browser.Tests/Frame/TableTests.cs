using Microsoft.Playwright;
using ShopFloor.Browser.Tests.Harness;
using ShopFloor.Data;

namespace ShopFloor.Browser.Tests.Frame;

/// <summary>Tables on a phone: those that are too wide are read row by row, the long one keeps its first column, and numbers are large enough to press.</summary>
[Collection(OnStage.Name)]
public sealed class TableTests(Stage stage)
{
    [Theory]
    [InlineData("/office/invoices")]
    [InlineData("/office/stock")]
    [InlineData("/office/people")]
    [InlineData("/office/audit")]
    public async Task Table_TooWideForAPhone_IsReadRowByRowWithTheHeadBesideEachValue(string path)
    {
        await using var visitor = await stage.VisitAsync(Screen.Desk, WorkerRole.Owner);
        await visitor.GoAsync(path);
        await Assertions.Expect(visitor.Page.Locator("table-frame[data-stacked]")).ToHaveCountAsync(0);
        await visitor.TurnToAsync(Screen.Phone, dark: false);
        await Assertions.Expect(visitor.Page.Locator("table-frame[data-stacked] td").First).ToBeVisibleAsync();
        var faults = await visitor.Page.EvaluateAsync<string[]>(
            """
            () => [...document.querySelectorAll("table-frame")].flatMap((frame) => {
              const faults = frame.scrollWidth > frame.clientWidth + 1 ? [`${frame.getAttribute("aria-label")} scrolls sideways`] : [];
              if (!frame.hasAttribute("data-stacked")) return faults;
              const heads = [...frame.querySelectorAll("thead th")].map((th) => th.textContent.trim());
              for (const row of frame.querySelectorAll("tbody tr"))
                [...row.cells].forEach((cell, at) => cell.dataset.label === heads[at] || faults.push(`${cell.textContent} is not called ${heads[at]}`));
              return faults;
            })
            """
        );
        Assert.Empty(faults);
        Assert.Empty(await visitor.AxeAsync());
    }

    [Fact]
    public async Task Orders_OnAPhone_KeepTheirNumberWhileTheRestScrolls()
    {
        await using var visitor = await stage.VisitAsync(Screen.Phone, WorkerRole.Owner);
        await visitor.GoAsync("/office/orders");
        await visitor.Page.WaitForSelectorAsync(".long-table tbody a");
        var moved = await visitor.Page.EvaluateAsync<double[]>(
            """
            () => {
              const frame = document.querySelector(".long-frame");
              const left = (cell) => cell.getBoundingClientRect().left;
              const row = document.querySelector(".long-table tbody tr:has(a)");
              const before = [...row.cells].map(left);
              frame.scrollLeft = 200;
              return [before[1] - left(row.cells[1]), before[0] - left(row.cells[0])];
            }
            """
        );
        Assert.Equal([200, 0], moved.Select(m => Math.Round(m)));
    }

    [Theory]
    [InlineData("/office/orders")]
    [InlineData("/office/invoices")]
    [InlineData("/office/stock")]
    public async Task Links_InATableOnAPhone_HaveRoomForAFinger(string path)
    {
        await using var visitor = await stage.VisitAsync(Screen.Phone, WorkerRole.Owner);
        await visitor.GoAsync(path);
        await visitor.Page.WaitForSelectorAsync(".table tbody a:visible");
        var small = await visitor.Page.EvaluateAsync<string[]>(
            """
            () => [...document.querySelectorAll(".table a")]
              .filter((link) => link.checkVisibility())
              .map((link) => [link, link.getBoundingClientRect()])
              .filter(([, box]) => box.width < 44 || box.height < 44)
              .map(([link, box]) => `${link.textContent} ${box.width}x${box.height}`)
            """
        );
        Assert.Empty(small);
    }
}
