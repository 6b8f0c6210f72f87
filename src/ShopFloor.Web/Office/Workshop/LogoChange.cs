using Microsoft.EntityFrameworkCore;
using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Workshop;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Workshop;

/// <summary>Puts another logo, or none, in the place of the one there was.</summary>
internal static class LogoChange
{
    /// <summary>Writes it down.</summary>
    /// <param name="work">The command's work.</param>
    /// <param name="logo">The new one; null for none.</param>
    /// <param name="cancel">Ends the read.</param>
    /// <returns>The earlier picture, whose files are the caller's to delete after the commit; null when there was none.</returns>
    public static async Task<PictureId?> PutAsync(CommandWork work, KeptPicture? logo, CancellationToken cancel)
    {
        var before = (await CurrentSettings.LoadAsync(work.Context, work.Now, cancel)).Logo.Picture;
        if (before is { } old)
            work.Context.Pictures.RemoveRange(await work.Context.Pictures.Where(p => p.Id == old).ToListAsync(cancel));
        if (logo is not null)
            work.Context.Pictures.Add(logo);
        await work.KeepAsync(SettingKeys.Logo, new WorkshopLogo { Picture = logo?.Id, Name = logo?.Name ?? "" }, cancel);
        return before;
    }
}
